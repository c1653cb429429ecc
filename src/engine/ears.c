/* The formulas as they are printed: NIOSH publication 98-126 (1998), 1.1.2 and 1.1.3, and OSHA's
 * 29 CFR 1910.95, Appendix A, I(2) and the footnote to table G-16a. */
#include "engine/ears.h"

#include <math.h>

static const struct {
    double level, exchange, slope;
} rules[] = {[EARS_NIOSH] = {85, 3, 10.0}, [EARS_OSHA] = {90, 5, 16.61}};

enum { MINUTES_8_H = 480, MINUTES_A_DAY = 1440 };

double ears_minutes(enum ears_rule rule, double dba)
{
    return MINUTES_8_H / exp2((dba - rules[rule].level) / rules[rule].exchange);
}

double ears_dose(enum ears_rule rule, double dba, double minutes)
{
    return 100 * minutes / ears_minutes(rule, dba);
}

double ears_level(enum ears_rule rule, double dose)
{
    return rules[rule].slope * log10(dose / 100) + rules[rule].level;
}

void ears_say(double minutes, struct str *out)
{
    if (minutes > MINUTES_A_DAY) {
        str_add(out, "more than a day");
        return;
    }
    if (minutes * 60 < 1) {
        str_add(out, "less than a second");
        return;
    }
    long seconds = lround(minutes * 60);
    if (seconds >= 3600) {
        long whole = lround(minutes);
        str_addf(out, whole % 60 ? "%ld h %ld min" : "%ld h", whole / 60, whole % 60);
    } else if (seconds >= 60) {
        str_addf(out, seconds % 60 ? "%ld min %ld s" : "%ld min", seconds / 60, seconds % 60);
    } else {
        str_addf(out, "%ld s", seconds);
    }
}

bool ears_read(const char *text, int *tenths, struct err *e)
{
    int whole = 0, tenth = 0, digits = 0;
    const char *s = text;
    for (; digits < 3 && *s >= '0' && *s <= '9'; digits++)
        whole = 10 * whole + (*s++ - '0');
    if (*s == '.' && s[1] >= '0' && s[1] <= '9') {
        tenth = s[1] - '0';
        s += 2;
    }
    *tenths = 10 * whole + tenth;
    if (digits && !*s && *tenths >= 10 * EARS_LEAST_DBA && *tenths <= 10 * EARS_MOST_DBA)
        return true;
    return err_set(e, ERR_USAGE, NULL,
                   "\"%.40s\" is not a level in dB(A); expected %d to %d, as in 97 or 97.5", text,
                   EARS_LEAST_DBA, EARS_MOST_DBA);
}

void ears_advise(int tenths, struct str *out)
{
    if (tenths < 0)
        return;
    str_addf(out, "at %d.%d dB(A) ears have ", tenths / 10, tenths % 10);
    ears_say(ears_minutes(EARS_NIOSH, tenths / 10.0), out);
    str_add(out, " in a day (NIOSH): no licence, local rules and whoever answers for safety at the "
                 "venue come first");
}
