/* The date on a sheet. */
#ifndef CLI_TODAY_H
#define CLI_TODAY_H

#include "base/str.h"

/* Appends today's date, "2026-11-25", in local time; or what $BOOTHWRIGHT_DATE says (at most ten
 * characters of it), so that the same sheet can be made again. */
void today(struct str *out);

#endif
