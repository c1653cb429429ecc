/* Tables and steps, to be read in the dark: labels, not ids, and the host's own way of counting. */
#include "cli/print_text.h"

#include <stdio.h>
#include <string.h>

#include "base/utf8.h"

enum { WIDTH = 80 };

void text_faults(const struct faults *faults, const char *file, struct table *t)
{
    for (size_t i = 0; i < faults->n; i++) {
        const struct fault *f = &faults->v[i];
        struct str line = {0};
        str_add(&line, f->text);
        if (f->fix_text)
            str_addf(&line, "; %s", f->fix_text);
        if (file)
            table_add(t, file);
        table_add(t, severity_word(f->severity));
        table_add(t, f->slug);
        table_add(t, str_text(&line));
        str_clear(&line);
    }
}

/* --- names -------------------------------------------------------------------------------------*/

static size_t count_mixers(const struct booth *b)
{
    size_t n = 0;
    for (size_t i = 0; i < b->devices.n; i++)
        n += b->devices.v[i].kind == KIND_MIXER;
    return n;
}

/* A strip's label, with its mixer's where there are several. */
static void name_strip(const struct circuit *c, int strip, struct str *out)
{
    str_add(out, circuit_strip(c, strip)->label);
    if (count_mixers(c->booth) > 1)
        str_addf(out, " (%s)", circuit_device(c, c->strips[strip].mixer)->label);
}

static void add_strip(const struct circuit *c, int strip, struct table *t)
{
    struct str name = {0};
    name_strip(c, strip, &name);
    table_add(t, str_text(&name));
    str_clear(&name);
}

/* "line" of "p1.line". */
static const char *jack_of(const char *name)
{
    return strchr(name, '.') + 1;
}

/* --- route -------------------------------------------------------------------------------------*/

/* "P2 line -> line", or "House mixer usb". */
static void name_path(const struct circuit *c, const struct route *r, struct str *out)
{
    char jack[REF_SIZE];
    str_addf(out, "%s ", circuit_device(c, r->device)->label);
    if (r->output >= 0) {
        circuit_output_name(c, r->output, jack);
        str_addf(out, "%s -> ", jack_of(jack));
    }
    circuit_input_name(c, r->input, jack);
    str_add(out, jack_of(jack));
}

/* Why a deck has no route: the first fault that is about it; the four that tell come first. */
static const char *why_not(const struct derived *d, const struct deck *h)
{
    if (!*h->wants)
        return "wants no strip";
    for (size_t i = 0; i < d->faults.n; i++) {
        const struct fault *f = &d->faults.v[i];
        if (f->subjects.n && strcmp(f->subjects.v[0], h->id) == 0)
            return f->text;
    }
    return "no route";
}

static void route_row(const struct derived *d, int deck, struct table *t)
{
    const struct circuit *c = d->circuit;
    const struct deck *h = &c->booth->decks.v[deck];
    const struct route *r = &d->routes[deck];
    struct str pair = {0}, path = {0};
    route_show(c, r->there ? r->pair : (struct pair){-1, -1}, &pair);
    if (r->there)
        name_path(c, r, &path);
    else
        str_add(&path, why_not(d, h));
    table_add(t, h->label);
    table_add(t, str_text(&pair));
    if (*h->wants)
        add_strip(c, c->decks[deck].wants, t);
    else
        table_add(t, "-");
    table_add(t, str_text(&path));
    str_clear(&path);
    str_clear(&pair);
}

void text_routes(const struct derived *d, bool ascii, struct str *out)
{
    const struct circuit *c = d->circuit;
    struct table t = {.columns = 4, .ascii = ascii};
    str_addf(out, "the interface has %d channels, which the host %s\n\n", c->channels,
             word_people(&words_channel_names, (int)c->booth->host.channel_names));
    table_add(&t, "host deck");
    table_add(&t, "pair");
    table_add(&t, "strip");
    table_add(&t, "through");
    for (size_t i = 0; i < c->n_decks; i++)
        route_row(d, (int)i, &t);
    table_write(&t, out);
    table_clear(&t);
}

/* --- heard -------------------------------------------------------------------------------------*/

/* What is heard on one side of a strip: "H1 left, H2 right". */
static void heard_cell(const struct derived *d, int strip, int side, struct table *t)
{
    struct str cell = {0};
    for (size_t i = 0; i < d->heard.n; i++) {
        const struct sound *s = &d->heard.v[i];
        if (s->strip == strip && s->side == side)
            str_addf(&cell, "%s%s %s", cell.len ? ", " : "",
                     d->circuit->booth->decks.v[s->deck].label, s->deck_side ? "right" : "left");
    }
    table_add(t, cell.len ? str_text(&cell) : "-");
    str_clear(&cell);
}

void text_heard(const struct derived *d, bool ascii, struct str *out)
{
    struct table t = {.columns = 3, .ascii = ascii};
    table_add(&t, "strip");
    table_add(&t, "on its left");
    table_add(&t, "on its right");
    for (size_t i = 0; i < d->circuit->n_strips; i++) {
        int strip = d->circuit->by_rank[i];
        add_strip(d->circuit, strip, &t);
        heard_cell(d, strip, 0, &t);
        heard_cell(d, strip, 1, &t);
    }
    table_write(&t, out);
    table_clear(&t);
}

/* --- order -------------------------------------------------------------------------------------*/

void text_wrap(struct str *out, const char *head, const char *text, bool ascii)
{
    struct str safe = {0}, word = {0};
    utf8_safe(&safe, text, -1, ascii);
    int indent = utf8_columns(head, ascii), at = indent;
    str_add(out, head);
    for (const char *s = str_text(&safe); *s; s += *s == ' ') {
        size_t n = strcspn(s, " ");
        str_cut(&word, 0);
        str_addn(&word, s, n);
        int columns = utf8_columns(str_text(&word), ascii);
        if (at > indent && at + 1 + columns > WIDTH) {
            str_addf(out, "\n%*s", indent, "");
            at = indent;
        }
        str_addf(out, "%s%s", at > indent ? " " : "", str_text(&word));
        at += columns + (at > indent);
        s += n;
    }
    str_addc(out, '\n');
    str_clear(&word);
    str_clear(&safe);
}

/* A reason that was just given is not given again. */
static bool new_reason(const struct step *s, const struct step *before)
{
    return s->why && !(before && before->why && strcmp(s->why, before->why) == 0);
}

static void step_out(const struct steps *steps, size_t i, bool ascii, struct str *out)
{
    const struct step *s = &steps->v[i];
    char head[32];
    snprintf(head, sizeof head, "%3zu [%c] ", i + 1, s->done ? 'x' : ' ');
    text_wrap(out, head, s->text, ascii);
    if (s->see)
        text_wrap(out, "        See: ", s->see, ascii);
    if (new_reason(s, i ? s - 1 : NULL))
        text_wrap(out, "        Why: ", s->why, ascii);
    if (s->note)
        text_wrap(out, "        Note: ", s->note, ascii);
}

void text_steps(const struct derived *d, bool ascii, struct str *out)
{
    for (size_t i = 0; i < d->steps.n; i++)
        step_out(&d->steps, i, ascii, out);
}

void text_errors_count(const char *head, const struct booth *b, bool ascii, struct str *out)
{
    struct derived *d = derived_make(b);
    size_t n = d->faults.count[SEVERITY_ERROR];
    struct str text = {0};
    str_addf(&text, "%zu error%s that check tells", n, n == 1 ? "" : "s");
    if (n)
        text_wrap(out, head, str_text(&text), ascii);
    str_clear(&text);
    derived_free(d);
}
