/* Shares are told in per cent: they say what to look at first, not more. */
#include "cli/print_diagnosis.h"

#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "cli/print_json.h"
#include "cli/print_text.h"
#include "engine/mend.h"
#include "model/say.h"
#include "model/shape.h"

enum { EXPLANATIONS_SHOWN = 8 };

static void mend_text(const struct diagnosis *d, const struct explanation *e, bool ascii,
                      struct str *out)
{
    struct plan *p = mend_make(d, e);
    for (size_t i = 0; p->feasible && i < p->n; i++) {
        struct str line = {0};
        action_say(&p->actions[i], &line);
        text_wrap(out, "      mend: ", str_text(&line), ascii);
        str_clear(&line);
    }
    if (!p->feasible)
        text_wrap(out, "      mend: ", p->why_not, ascii);
    mend_free(p);
}

/* Each with its name and what would put it right, as check tells it. */
static void known_text(const struct diagnosis *d, const char *head, bool ascii, struct str *out)
{
    struct circuit *c = circuit_new(d->believed->booth);
    struct faults all = faults_find(c);
    for (size_t i = 0; i < all.n; i++) {
        const struct fault *f = &all.v[i];
        struct str line = {0};
        str_addf(&line, "%s: %s%s%s", f->slug, f->text, f->fix_text ? "; " : "",
                 f->fix_text ? f->fix_text : "");
        if (diagnosis_knows(d, f))
            text_wrap(out, head, str_text(&line), ascii);
        str_clear(&line);
    }
    faults_clear(&all);
    circuit_free(c);
}

static void explanation_text(const struct diagnosis *d, size_t i, bool ascii, struct str *out)
{
    struct str line = {0};
    char percent[16];
    explanation_say(d, i, &line);
    size_t head = strcspn(line.text, ":") + 2;
    snprintf(percent, sizeof percent, "%7.*s", (int)head, line.text);
    text_wrap(out, percent, line.text + head, ascii);
    str_clear(&line);
}

static void explanations_text(const struct diagnosis *d, bool ascii, struct str *out)
{
    for (size_t i = 0; i < d->n_lines && i < EXPLANATIONS_SHOWN; i++) {
        const struct explanation *e = &d->v[d->lines[i]];
        explanation_text(d, d->lines[i], ascii, out);
        if (e->n == 0)
            known_text(d, "      known: ", ascii, out);
        if (i == 0 && (e->n || d->n_amiss))
            mend_text(d, e, ascii, out);
    }
    if (d->n_lines > EXPLANATIONS_SHOWN)
        str_addf(out, "and %zu less likely one%s\n", d->n_lines - EXPLANATIONS_SHOWN,
                 d->n_lines == EXPLANATIONS_SHOWN + 1 ? "" : "s");
    if (d->n == 0 || d->v[0].n)
        known_text(d, "known: ", ascii, out);
}

/* That nothing explains it, and what to do about that. */
static void nothing_text(const struct diagnosis *d, bool ascii, struct str *out)
{
    const char *nothing = d->others ? "nothing else" : "nothing";
    struct str line = {0};
    if (d->odd >= 0)
        str_addf(&line, "%s explains all that was heard; check %s again", nothing,
                 d->believed->booth->decks.v[d->odd].label);
    else
        str_addf(&line, "%s explains what was heard; check again", nothing);
    text_wrap(out, "", str_text(&line), ascii);
    str_clear(&line);
}

/* The decks that want a strip and are not checked. */
static void unchecked_text(const struct booth *b, bool ascii, struct str *out)
{
    struct texts unchecked = {0};
    struct str line = {0};
    for (size_t i = 0; i < b->decks.n; i++)
        if (*b->decks.v[i].wants && !booth_listen(b, b->decks.v[i].id))
            texts_add(&unchecked, b->decks.v[i].id);
    say_labels(b, &unchecked, &line);
    if (unchecked.n)
        text_wrap(out, "not checked: ", str_text(&line), ascii);
    str_clear(&line);
    texts_clear(&unchecked);
}

void text_diagnosis(const struct diagnosis *d, bool ascii, struct str *out)
{
    struct str cut = {0};
    diagnosis_say_cut(d, &cut);
    if (d->marks == 0)
        str_add(out, "no deck has been checked yet\n");
    if (d->n == 0)
        nothing_text(d, ascii, out);
    if (d->marks)
        explanations_text(d, ascii, out);
    if (cut.len)
        text_wrap(out, "", str_text(&cut), ascii);
    if (d->marks && d->n && d->v[0].n == 0)
        unchecked_text(d->believed->booth, ascii, out);
    if (d->marks && !d->n_amiss && (d->n == 0 || d->v[0].n == 0))
        text_errors_count("besides: ", d->believed->booth, ascii, out);
    if (d->next)
        text_wrap(out, "next: ", d->next, ascii);
    str_clear(&cut);
}

static void cause_out(const struct diagnosis *d, const struct explanation *e, int at,
                      struct json_out *w)
{
    const struct cause *k = &e->causes[at];
    struct texts subjects = {0};
    struct str detail = {0}, text = {0};
    cause_subjects(d->believed, k, &subjects);
    cause_detail(d->believed, k, &detail);
    cause_say_among(d->believed, e->causes, e->n, at, &text);
    json_object(w, NULL);
    json_text(w, "cause", cause_word(k->kind));
    json_array(w, "subjects");
    for (size_t i = 0; i < subjects.n; i++)
        json_text(w, NULL, subjects.v[i]);
    json_end(w);
    if (k->kind == CAUSE_OTHER_PAIR) {
        json_array(w, "detail");
        json_number(w, NULL, k->pair.left);
        json_number(w, NULL, k->pair.right);
        json_end(w);
    } else {
        json_text(w, "detail", detail.len ? detail.text : NULL);
    }
    json_text(w, "text", str_text(&text));
    json_end(w);
    field_clear(shape_field(&shape_combination, "models"), &subjects);
    str_clear(&detail);
    str_clear(&text);
}

static void explanation_out(const struct diagnosis *d, const struct explanation *e,
                            struct json_out *w)
{
    json_object(w, NULL);
    json_array(w, "causes");
    for (int k = 0; k < e->n; k++)
        cause_out(d, e, k, w);
    json_end(w);
    json_real(w, "weight", e->share);
    json_number(w, "group", e->group);
    json_end(w);
}

static void known_out(const struct diagnosis *d, struct json_out *w)
{
    struct circuit *c = circuit_new(d->believed->booth);
    struct faults all = faults_find(c);
    json_array(w, "known");
    for (size_t i = 0; i < all.n; i++)
        if (diagnosis_knows(d, &all.v[i]))
            json_fault(&all.v[i], NULL, w);
    json_end(w);
    faults_clear(&all);
    circuit_free(c);
}

void json_diagnosis(const struct diagnosis *d, struct json_out *w)
{
    json_array(w, "explanations");
    for (size_t i = 0; i < d->n; i++)
        explanation_out(d, &d->v[i], w);
    json_end(w);
    json_bool(w, "cut", d->cut || d->more);
    known_out(d, w);
    if (!d->next) {
        json_null(w, "next_check");
        return;
    }
    json_object(w, "next_check");
    json_text(w, "deck", d->next_deck < 0 ? NULL : d->believed->booth->decks.v[d->next_deck].id);
    json_text(w, "text", d->next);
    json_end(w);
}
