/* Shares are told in per cent: they say what to look at first, not more. */
#include "cli/print_diagnosis.h"

#include <stdio.h>
#include <string.h>

#include "base/mem.h"
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
        str_addf(&line, "%s (", p->actions[i].text);
        say_minutes(p->actions[i].minutes, &line);
        str_add(&line, " min)");
        text_wrap(out, "      mend: ", str_text(&line), ascii);
        str_clear(&line);
    }
    if (!p->feasible)
        text_wrap(out, "      mend: ", p->why_not, ascii);
    mend_free(p);
}

void text_diagnosis(const struct diagnosis *d, bool ascii, struct str *out)
{
    const struct booth *b = d->believed->booth;
    if (d->marks == 0)
        str_add(out, "no deck has been checked yet\n");
    bool silent = d->marks == 0;
    const char *nothing = d->others ? "nothing else" : "nothing";
    if (d->n == 0 && d->odd >= 0) {
        struct str line = {0};
        str_addf(&line, "%s explains all that was heard; check %s again", nothing,
                 b->decks.v[d->odd].label);
        text_wrap(out, "", line.text, ascii);
        str_clear(&line);
    } else if (d->n == 0) {
        str_addf(out, "%s explains what was heard; check again\n", nothing);
    }
    if (d->n == 0 && d->cut)
        str_add(out, "there were too many sets of three causes to try them all\n");
    size_t said = 0;
    for (size_t i = 0; !silent && i < d->n; i++) {
        struct str line = {0};
        if (explanation_say(d, i, &line) && said++ < EXPLANATIONS_SHOWN) {
            size_t head = strcspn(line.text, ":") + 2;
            char percent[16];
            snprintf(percent, sizeof percent, "%7.*s", (int)head, line.text);
            text_wrap(out, percent, line.text + head, ascii);
            if (i == 0 && d->v[i].n)
                mend_text(d, &d->v[i], ascii, out);
        }
        str_clear(&line);
    }
    if (said > EXPLANATIONS_SHOWN)
        str_addf(out, "and %zu less likely ones\n", said - EXPLANATIONS_SHOWN);
    if (d->next)
        text_wrap(out, "next: ", d->next, ascii);
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

void json_diagnosis(const struct diagnosis *d, struct json_out *w)
{
    json_array(w, "explanations");
    for (size_t i = 0; i < d->n; i++) {
        json_object(w, NULL);
        json_array(w, "causes");
        for (int k = 0; k < d->v[i].n; k++)
            cause_out(d, &d->v[i], k, w);
        json_end(w);
        json_real(w, "weight", d->v[i].share);
        json_number(w, "group", d->v[i].group);
        json_end(w);
    }
    json_end(w);
    if (!d->next) {
        json_null(w, "next_check");
        return;
    }
    json_object(w, "next_check");
    json_text(w, "deck", d->next_deck < 0 ? NULL : d->believed->booth->decks.v[d->next_deck].id);
    json_text(w, "text", d->next);
    json_end(w);
}
