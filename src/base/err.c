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
    size_t room = sizeof e->place, n = strlen(outer);
    bool dot = *outer && *e->place && *e->place != '[';
    size_t front = n + (dot ? 1 : 0);
    if (front >= room)
        return; /* deeper than any venue: the inner place alone is still right */
    size_t inner = strlen(e->place);
    if (inner > room - 1 - front)
        inner = room - 1 - front;
    memmove(e->place + front, e->place, inner);
    memcpy(e->place, outer, n);
    if (dot)
        e->place[n] = '.';
    e->place[front + inner] = '\0';
}
