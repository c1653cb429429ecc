/* The one place where an error becomes words on standard error: at the edge, once. */
#include "cli/say.h"

#include <langinfo.h>
#include <stdio.h>
#include <string.h>

#include "base/str.h"
#include "base/utf8.h"

bool say_ascii(void)
{
    return strcmp(nl_langinfo(CODESET), "UTF-8") != 0;
}

static void add_part(struct str *out, const char *text, const char *after)
{
    utf8_safe(out, text, -1, say_ascii());
    str_add(out, after);
}

int say_error(const char *file, const struct err *e)
{
    struct str line = {0};
    str_add(&line, "boothwright: ");
    if (file)
        add_part(&line, file, ": ");
    if (*e->place && !(file && strcmp(e->place, file) == 0))
        add_part(&line, e->place, ": ");
    add_part(&line, e->says, "\n");
    fputs(str_text(&line), stderr);
    str_clear(&line);
    return (int)e->code;
}
