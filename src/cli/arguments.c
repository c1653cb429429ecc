/* Two walks: the first sorts options from operands, the second asks whether they make sense.
 *
 * The first operand is a verb if a verb has that name; else it is a file for the editor, which has
 * to look like one, so that a mistyped verb is not taken for a venue that is yet to be made. */
#include "cli/arguments.h"

#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "cli/verbs.h"

static const struct option_row options[] = {
    {"--json", OPTION_JSON, "print one JSON document, for scripts (verbs)", NULL},
    {"--ascii", OPTION_ASCII, "draw and print with ASCII only", NULL},
    {"--mono", OPTION_MONO, "no colours (editor)", NULL},
    {"--apply", OPTION_APPLY, "print the venue with a way's plan made (plan)", "WAY"},
    {"--csv", OPTION_CSV, "for a spreadsheet (sheet)", NULL},
    {"--svg", OPTION_SVG, "a picture of one page (sheet)", NULL},
    {"--all", OPTION_ALL, "every host deck (ident)", NULL},
    {"--into", OPTION_INTO, "the folder to write into (ident)", "DIR"},
    {"--rate", OPTION_RATE, "44100 or 48000 (ident)", "HZ"},
    {"--ebu", OPTION_EBU, "the EBU stereo ident instead of GLITS (ident)", NULL},
    {"--play", OPTION_PLAY, "no file: play it, on this sound device (ident)", "DEVICE"},
    {"--level", OPTION_LEVEL, "-60 to -18 dBFS (ident --play); 60 to 140 dB(A) (budget)", "DB"},
    {"--not", OPTION_NOT, "it is not that: CAUSE:SUBJECTS, may be repeated (diagnose)", "CAUSE"},
    {"--help", OPTION_HELP, "this list; with a verb, more about the verb", NULL},
    {"--version", OPTION_VERSION, "the version", NULL},
};

const struct option_row *option_at(size_t i)
{
    return i < sizeof options / sizeof *options ? &options[i] : NULL;
}

static bool usage(struct err *e, const char *problem, const char *what)
{
    return err_set(e, ERR_USAGE, NULL, "%s \"%.200s\"; boothwright --help tells what there is",
                   problem, what);
}

/* Takes an option; next is the argument after it, or NULL. *took tells whether that is used up. */
static bool take_option(struct arguments *a, const char *text, const char *next, bool *took,
                        struct err *e)
{
    *took = false;
    for (size_t i = 0; i < sizeof options / sizeof *options; i++) {
        if (strcmp(options[i].name, text) != 0)
            continue;
        a->options |= (unsigned)options[i].bit;
        if (!options[i].value)
            return true;
        a->values[i] = next;
        if (next && options[i].bit == OPTION_NOT)
            a->nots[a->n_nots++] = next;
        *took = true;
        return next ||
               err_set(e, ERR_USAGE, NULL, "%s needs a %s after it", text, options[i].value);
    }
    return usage(e, "there is no option", text);
}

const char *arguments_value(const struct arguments *a, enum option bit)
{
    for (size_t i = 0; i < sizeof options / sizeof *options; i++)
        if (options[i].bit == bit)
            return a->values[i];
    return NULL;
}

/* Sorts the arguments; *plain is how many operands stand before "--". */
static bool sort_arguments(struct arguments *a, int argc, char *const *argv, size_t *plain,
                           struct err *e)
{
    bool ended = false;
    *plain = 0;
    for (int i = 1; i < argc; i++) {
        const char *text = argv[i];
        if (!ended && strcmp(text, "--") == 0) {
            ended = true;
            continue;
        }
        if (!ended && text[0] == '-' && text[1]) {
            bool took;
            if (!take_option(a, text, i + 1 < argc ? argv[i + 1] : NULL, &took, e))
                return false;
            i += took;
            continue;
        }
        if (!*text)
            return err_set(e, ERR_USAGE, NULL,
                           "an empty argument names no file; boothwright --help tells more");
        a->operands[a->n++] = text;
        *plain += !ended;
    }
    return true;
}

/* Takes the verb off the operands. */
static void take_verb(struct arguments *a, size_t plain)
{
    a->verb = plain ? verb_find(a->operands[0]) : NULL;
    if (!a->verb)
        return;
    a->n--;
    memmove(a->operands, a->operands + 1, a->n * sizeof *a->operands);
}

static bool like_a_file(const char *name)
{
    return strpbrk(name, "/.") || access(name, F_OK) == 0;
}

static bool check_editor(const struct arguments *a, size_t plain, struct err *e)
{
    bool help = a->options & (OPTION_HELP | OPTION_VERSION);
    if (a->n && plain && strcmp(a->operands[0], "-") == 0)
        return err_set(e, ERR_USAGE, NULL,
                       "the editor needs a file that it can save to; only verbs read standard "
                       "input, as in: boothwright check -");
    if (a->n && plain && (help || a->n > 1 || !like_a_file(a->operands[0])))
        return usage(e, "there is no verb", a->operands[0]);
    if (a->n > 1)
        return err_set(e, ERR_USAGE, NULL, "the editor opens one file, not %zu", a->n);
    if (a->options & OPTION_JSON && !help)
        return err_set(e, ERR_USAGE, NULL,
                       "--json needs a verb, as in: boothwright check --json FILE");
    return true;
}

static bool check_verb(const struct arguments *a, struct err *e)
{
    const struct verb *v = a->verb;
    if (a->options & OPTION_HELP)
        return true;
    for (size_t i = 0; i < sizeof options / sizeof *options; i++)
        if (a->options & (unsigned)options[i].bit & ~v->options)
            return err_set(e, ERR_USAGE, NULL, "%s does not take %s", v->name, options[i].name);
    if (a->n < v->least || a->n > v->most)
        return err_set(e, ERR_USAGE, NULL, "it is: boothwright %s %s (\"-\": standard input)",
                       v->name, v->operands);
    return true;
}

bool arguments_read(struct arguments *a, int argc, char *const *argv, struct err *e)
{
    *a = (struct arguments){0};
    if (argc < 1)
        return err_set(e, ERR_USAGE, NULL, "started without even its own name");
    a->operands = mem_new((size_t)argc, sizeof *a->operands);
    a->nots = mem_new((size_t)argc, sizeof *a->nots);
    size_t plain;
    if (!sort_arguments(a, argc, argv, &plain, e))
        return false;
    take_verb(a, plain);
    if (a->options & OPTION_VERSION)
        return true;
    return a->verb ? check_verb(a, e) : check_editor(a, plain, e);
}

void arguments_clear(struct arguments *a)
{
    mem_free(a->operands);
    mem_free(a->nots);
    *a = (struct arguments){0};
}
