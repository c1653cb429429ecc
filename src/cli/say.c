/* The edge: the one place where an error becomes words, and where an answer leaves the program. */
#include "cli/say.h"

#include <errno.h>
#include <langinfo.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "base/utf8.h"
#include "file/disk.h"

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

/* Tells why standard output failed, unless nobody is there to read it. */
static int say_unwritten(int why)
{
    if (why == EPIPE)
        return ERR_WRITE;
    struct err e;
    err_set(&e, ERR_WRITE, "standard output", "cannot be written: %s", strerror(why));
    return say_error(NULL, &e);
}

int say_now(const struct str *part)
{
    int why = disk_write_all(STDOUT_FILENO, str_text(part), part->len);
    return why ? say_unwritten(why) : 0;
}

int say_answer(const struct str *answer, int status)
{
    if (answer->len == 0)
        return status;
    int why = disk_write_all(STDOUT_FILENO, str_text(answer), answer->len);
    if (!why && close(STDOUT_FILENO) < 0 && errno != EINTR)
        why = errno;
    return why ? say_unwritten(why) : status;
}
