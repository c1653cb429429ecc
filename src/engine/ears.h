/* How long ears may be exposed to a level: published arithmetic, as information, never a licence.
 * Local rules and whoever is responsible for safety at the venue come first. */
#ifndef ENGINE_EARS_H
#define ENGINE_EARS_H

#include <stdbool.h>

#include "base/err.h"
#include "base/str.h"

enum ears_rule {
    EARS_NIOSH, /* 85 dB(A) for 8 h, halved every 3 dB: NIOSH publication 98-126 (1998), 1.1 */
    EARS_OSHA,  /* 90 dB(A) for 8 h, halved every 5 dB: 29 CFR 1910.95, Appendix A */
};

/* The measured levels, in dB(A), that these functions are asked about. */
enum { EARS_LEAST_DBA = 60, EARS_MOST_DBA = 140 };

/* In place of a level in tenths of a dB(A): nobody measured one. */
enum { EARS_UNTOLD = -1 };

/* The minutes in a day at a steady level in dB(A) that make up the whole dose:
 * 480 / 2^((L - 85) / 3) by NIOSH, 480 / 2^((L - 90) / 5) by OSHA. */
double ears_minutes(enum ears_rule rule, double dba);

/* The dose, in per cent, of so many minutes at a level: 100 * minutes / ears_minutes(). Doses of
 * one day add up. */
double ears_dose(enum ears_rule rule, double dba, double minutes);

/* The steady level over 8 h, in dB(A), that gives a dose in per cent (above 0):
 * 10 log10(D / 100) + 85 by NIOSH, 16.61 log10(D / 100) + 90 by OSHA. */
double ears_level(enum ears_rule rule, double dose);

/* Appends a time as people say it, rounded as NIOSH's table is: "more than a day", "2 h 31 min",
 * "15 min", "5 min 57 s", "9 s", "less than a second". */
void ears_say(double minutes, struct str *out);

/* A level as it is typed, "97" or "97.5", in tenths of a dB(A). False, with ERR_USAGE, when it is
 * none from EARS_LEAST_DBA to EARS_MOST_DBA. */
bool ears_read(const char *text, int *tenths, struct err *e);

/* Appends how long ears have at a level in tenths of a dB(A), in one sentence that defers to local
 * rules; nothing for EARS_UNTOLD. */
void ears_advise(int tenths, struct str *out);

#endif
