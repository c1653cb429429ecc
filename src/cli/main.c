/* The program's door: arguments in, an exit status out.
 *
 * A verb only appends to a text; what was asked for goes to standard output in one piece, so
 * that there is one place which can find it full, closed or gone (say.c). Only what has to be read
 * before it sounds goes out before. */
#include <fcntl.h>
#include <signal.h>
#include <unistd.h>

#include "cli/arguments.h"
#include "cli/help.h"
#include "cli/play_ident.h"
#include "cli/say.h"
#include "cli/session.h"
#include "cli/verbs.h"
#include "term/terminal.h"

/* Descriptors 0 to 2 that are closed would be given to the next file that is opened. Nothing can
 * be read from what stands in for them, nor written to it. */
static void fill_standard_descriptors(void)
{
    for (int fd = 0; fd <= 2; fd++)
        if (fcntl(fd, F_GETFD) < 0)
            open("/dev/null", fd == 0 ? O_WRONLY : O_RDONLY);
}

static int say_usage(const char *sentence)
{
    struct err e;
    err_set(&e, ERR_USAGE, NULL, "%s", sentence);
    return say_error(NULL, &e);
}

/* Opens the editor on a file, or on a choice of the saved venues for NULL. */
static int edit(const char *file, unsigned options)
{
    if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO))
        return say_usage("the editor needs a terminal; without one use a verb, as in: "
                         "boothwright check FILE");
    terminal_locale();
    struct session_setup setup = {
        .path = file, .ascii = (options & OPTION_ASCII) != 0, .mono = (options & OPTION_MONO) != 0};
    struct err e = {0};
    int status = session_run(&setup, &e);
    return e.code ? say_error(file, &e) : status;
}

static int run(const struct arguments *a, struct str *out)
{
    if (a->options & OPTION_VERSION)
        str_add(out, "boothwright " VERSION "\n");
    else if (a->options & OPTION_HELP && a->verb)
        help_verb(a->verb, out);
    else if (a->options & OPTION_HELP)
        help_all(out);
    else if (a->verb && a->options & OPTION_PLAY)
        return play_ident(a, out); /* the one verb that needs more than the library */
    else if (a->verb)
        return a->verb->run(a, out);
    else
        return edit(a->n ? a->operands[0] : NULL, a->options);
    return 0;
}

int main(int argc, char **argv)
{
    fill_standard_descriptors();
    terminal_locale();
    signal(SIGPIPE, SIG_IGN);
#ifdef SIGXFSZ
    signal(SIGXFSZ, SIG_IGN); /* a file too large is an error to tell */
#endif
    if (getuid() != geteuid() || getgid() != getegid())
        return say_usage("will not run with somebody else's rights (setuid or setgid)");
    struct arguments a;
    struct err e;
    struct str out = {0};
    int status = arguments_read(&a, argc, argv, &e) ? run(&a, &out) : say_error(NULL, &e);
    status = say_answer(&out, status);
    arguments_clear(&a);
    str_clear(&out);
    return status;
}
