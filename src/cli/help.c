/* Help is the tables, read aloud; the manual is compared with the same tables. */
#include "cli/help.h"

static const struct {
    int status;
    const char *means;
} exits[] = {
    {0, "all is well"},
    {1, "an error (check), no way in (plan), or no explanation (diagnose)"},
    {2, "wrong usage"},
    {3, "a file cannot be read, or is no venue"},
    {4, "a file, standard output or a sound device cannot be written to"},
    {5, "the file was changed, or is being edited, by somebody else"},
};

const char *help_exit(size_t i, int *status)
{
    if (i >= sizeof exits / sizeof *exits)
        return NULL;
    *status = exits[i].status;
    return exits[i].means;
}

static void add_row(struct table *t, const char *name, const char *line)
{
    struct str indented = {0};
    str_addf(&indented, "  %s", name);
    table_add(t, str_text(&indented));
    table_add(t, line);
    str_clear(&indented);
}

static void end_table(struct table *t, struct str *out)
{
    table_write(t, out);
    table_clear(t);
}

static void add_option(struct table *t, const struct option_row *row)
{
    struct str form = {0};
    str_addf(&form, "%s%s%s", row->name, row->value ? " " : "", row->value ? row->value : "");
    add_row(t, str_text(&form), row->line);
    str_clear(&form);
}

static void add_options(unsigned which, struct str *out)
{
    struct table t = {.columns = 2};
    const struct option_row *row;
    for (size_t i = 0; (row = option_at(i)); i++)
        if (which & (unsigned)row->bit)
            add_option(&t, row);
    str_add(out, "\nOptions:\n");
    end_table(&t, out);
}

static void add_exits(struct str *out)
{
    struct table t = {.columns = 2};
    const char *means;
    int status;
    for (size_t i = 0; (means = help_exit(i, &status)); i++) {
        char number[12] = {(char)('0' + status), '\0'};
        add_row(&t, number, means);
    }
    str_add(out, "\nExit status:\n");
    end_table(&t, out);
}

static void add_verbs(struct str *out)
{
    struct table t = {.columns = 2};
    const struct verb *v;
    for (size_t i = 0; (v = verb_at(i)); i++) {
        struct str form = {0};
        str_addf(&form, "%s %s", v->name, v->operands);
        add_row(&t, str_text(&form), v->line);
        str_clear(&form);
    }
    str_add(out, "\nVerbs:\n");
    end_table(&t, out);
}

void help_all(struct str *out)
{
    str_add(out, "boothwright: every host deck out of the mixer strip that your hands expect\n\n"
                 "  boothwright FILE           edit a venue\n"
                 "  boothwright                choose among the saved venues\n"
                 "  boothwright VERB FILE...   answer one question; \"-\" is standard input\n");
    add_verbs(out);
    add_options(~0u, out);
    add_exits(out);
    str_add(out, "\nMore: boothwright --help VERB, boothwright(1), boothwright-venue(5)\n");
}

void help_verb(const struct verb *v, struct str *out)
{
    str_addf(out, "boothwright %s %s: %s\n\n", v->name, v->operands, v->line);
    text_wrap(out, "", v->help, false);
    add_options(v->options, out);
    add_exits(out);
}
