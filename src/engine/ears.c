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
