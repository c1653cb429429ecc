/* Errors are values: filled where they are found, printed once at the edge. */
#include "base/err.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* Takes a character that was cut in half off the end. */
static void trim(char *text)
{
    size_t n = strlen(text), lead = n;
    while (lead > 0 && n - lead < 3 && ((unsigned char)text[lead - 1] & 0xc0) == 0x80)
        lead--;
    if (lead == 0 || (unsigned char)text[lead - 1] < 0xc0)
        return;
    unsigned char first = (unsigned char)text[lead - 1];
    size_t whole = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
    if (n - lead + 1 < whole)
        text[lead - 1] = '\0';
}

bool err_set(struct err *e, enum err_code code, const char *place, const char *fmt, ...)
{
    assert(e && fmt);
    e->code = code;
    snprintf(e->place, sizeof e->place, "%s", place ? place : "");
    va_list args;
    va_start(args, fmt);
    vsnprintf(e->says, sizeof e->says, fmt, args);
    va_end(args);
    trim(e->place);
    trim(e->says);
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
    trim(e->place);
}
