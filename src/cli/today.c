/* A clock that cannot be read leaves the date out. */
#include "cli/today.h"

#include <stdlib.h>
#include <time.h>

#include "base/utf8.h"

void today(struct str *out)
{
    char date[32] = "";
    const char *fixed = getenv("BOOTHWRIGHT_DATE");
    time_t now = time(NULL);
    struct tm parts;
    if (fixed)
        utf8_safe(out, fixed, 10, true);
    else if (localtime_r(&now, &parts) && strftime(date, sizeof date, "%Y-%m-%d", &parts))
        str_add(out, date);
}
