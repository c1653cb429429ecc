/* Errors are values: filled where they are found, printed once at the edge. */
#include "base/err.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

bool err_set(struct err *e, enum err_code code, const char *place, const char *fmt, ...)
{
    assert(e && fmt);
    e->code = code;
    snprintf(e->place, sizeof e->place, "%s", place ? place : "");
    va_list args;
    va_start(args, fmt);
    vsnprintf(e->says, sizeof e->says, fmt, args);
    va_end(args);
    return false;
}

void err_within(struct err *e, const char *outer)
{
    char inner[sizeof e->place];
    memcpy(inner, e->place, sizeof inner);
    bool dot = *outer && *inner && *inner != '[';
    snprintf(e->place, sizeof e->place, "%s%s%.*s", outer, dot ? "." : "", (int)sizeof inner - 1,
             inner);
}
