/* Minutes are thousandths inside and decimals outside. */
#include "cli/print_plan.h"

#include "cli/print_json.h"
#include "cli/print_text.h"
#include "model/say.h"

static void minutes_text(int milli, struct str *out)
{
    say_minutes(milli, out);
    str_add(out, " min");
}

void text_actions(const struct plan *p, bool ascii, struct str *out)
{
    for (size_t k = 0; k < p->n; k++) {
        struct str minutes = {0}, head = {0};
        say_minutes(p->actions[k].minutes, &minutes);
        str_addf(&head, "%3zu %6s  ", k + 1, str_text(&minutes));
        text_wrap(out, str_text(&head), p->actions[k].text, ascii);
        str_clear(&minutes);
        str_clear(&head);
    }
}

/* Lines under one head of 10 columns. */
static void lines_text(const char *head, const struct texts *lines, bool ascii, struct str *out)
{
    for (size_t i = 0; i < lines->n; i++)
        text_wrap(out, i ? "          " : head, lines->v[i], ascii);
}

void text_plans(const struct plan *plans, bool ascii, struct str *out)
{
    for (int i = 0; i < WAYS; i++) {
        const struct plan *p = &plans[i];
        struct str head = {0}, pairs = {0};
        if (i)
            str_addc(out, '\n');
        str_addf(&head, "%s: ", word_people(&words_way, (int)p->way));
        if (!p->feasible) {
            text_wrap(out, str_text(&head), p->why_not, ascii);
            str_clear(&head);
            continue;
        }
        minutes_text(p->minutes, &head);
        str_addf(out, "%s%s\n", str_text(&head), p->n ? "" : ", nothing to do");
        str_clear(&head);
        lines_text("   bring: ", &p->bag, ascii, out);
        if (plan_caution(p))
            text_wrap(out, "   first: ", plan_caution(p), ascii);
        text_actions(p, ascii, out);
        plan_say_pairs(p, true, &pairs);
        if (pairs.len)
            text_wrap(out, "   then: ", str_text(&pairs), ascii);
        str_clear(&pairs);
        lines_text("    also: ", &p->advice, ascii, out);
        text_errors_count("    left: ", p->after, ascii, out);
    }
}

static void subjects_out(const struct change *c, struct json_out *w)
{
    const char *const names[] = {c->a, c->b, c->c};
    bool jacks = c->what == CHANGE_CABLE || c->what == CHANGE_CABLE_MOVE ||
                 c->what == CHANGE_UNCABLE;
    json_array(w, "subjects");
    for (size_t i = 0; i < 3; i++)
        if (*names[i] && (i == 0 || jacks))
            json_text(w, NULL, names[i]);
    json_end(w);
}

static void action_out(const struct action *a, struct json_out *w)
{
    json_object(w, NULL);
    json_text(w, "do", a->word);
    subjects_out(&a->change, w);
    json_milli(w, "minutes", a->minutes);
    json_text(w, "text", a->text);
    json_end(w);
}

void json_actions(const struct plan *p, struct json_out *w)
{
    json_array(w, "actions");
    for (size_t i = 0; i < p->n; i++)
        action_out(&p->actions[i], w);
    json_end(w);
}

static void plan_out(const struct plan *p, struct json_out *w)
{
    json_object(w, NULL);
    json_text(w, "way", word_file(&words_way, (int)p->way));
    if (p->feasible)
        json_milli(w, "minutes", p->minutes);
    else
        json_null(w, "minutes");
    json_bool(w, "feasible", p->feasible);
    json_text(w, "why_not", p->why_not);
    json_actions(p, w);
    if (p->feasible) {
        struct derived *d = derived_make(p->after);
        json_routes(d, w);
        derived_free(d);
    } else {
        json_array(w, "routes");
        json_end(w);
    }
    json_texts(w, "bag", &p->bag);
    json_texts(w, "advice", &p->advice);
    json_end(w);
}

void json_plans(const struct plan *plans, struct json_out *w)
{
    json_array(w, "plans");
    for (int i = 0; i < WAYS; i++)
        plan_out(&plans[i], w);
    json_end(w);
}

/* --- failures --------------------------------------------------------------------------------- */

static void way_text(const char *how, const struct way_back *way, bool ascii, struct str *out)
{
    struct str line = {0};
    str_addf(&line, "%s ", how);
    way_back_say_when(way, &line);
    str_addf(&line, ": %s", way->text);
    text_wrap(out, "    ", str_text(&line), ascii);
    str_clear(&line);
    for (size_t i = 0; i < way->plan.bag.n; i++)
        text_wrap(out, "      bring: ", way->plan.bag.v[i], ascii);
    for (size_t i = 0; i < way->plan.n; i++)
        text_wrap(out, "      - ", way->plan.actions[i].text, ascii);
    for (size_t i = 0; i < way->plan.advice.n; i++)
        text_wrap(out, "      also: ", way->plan.advice.v[i], ascii);
}

static void way_back_text(const struct booth *b, const struct failure *f, bool ascii,
                          struct str *out)
{
    struct str line = {0};
    if (f->back.plan.feasible) {
        way_text("back", &f->back, ascii, out);
        return;
    }
    str_addf(&line, "no way back: %s", f->back.plan.why_not);
    text_wrap(out, "    ", str_text(&line), ascii);
    str_clear(&line);
    if (!f->meanwhile.plan.feasible)
        return;
    str_add(&line, "go on without ");
    say_labels(b, &f->meanwhile.without, &line);
    way_text(str_text(&line), &f->meanwhile, ascii, out);
    str_clear(&line);
}

static void failure_text(const struct booth *b, const struct failure *f, bool ascii,
                         struct str *out)
{
    struct str line = {0};
    str_addf(&line, "%s: ", f->what);
    str_add(&line, f->silent.n ? "silent " : "nothing falls silent");
    say_labels(b, &f->silent, &line);
    if (f->moved.n)
        str_add(&line, "; heard elsewhere ");
    say_labels(b, &f->moved, &line);
    if (f->uncontrolled.n)
        str_add(&line, "; without control ");
    say_labels(b, &f->uncontrolled, &line);
    text_wrap(out, "", str_text(&line), ascii);
    str_clear(&line);
    if (f->loses)
        way_back_text(b, f, ascii, out);
}

void text_failures(const struct derived *d, bool ascii, struct str *out)
{
    struct failures all = failures_make(d->circuit->booth);
    for (size_t i = 0; i < all.n; i++)
        failure_text(d->circuit->booth, &all.v[i], ascii, out);
    failures_clear(&all);
}

/* Opens a way's object; for none, writes null and returns false. */
static bool way_open(struct json_out *w, const char *key, const struct way_back *way)
{
    if (!way->plan.feasible) {
        json_null(w, key);
        return false;
    }
    json_object(w, key);
    json_milli(w, "minutes", way->plan.minutes);
    json_actions(&way->plan, w);
    json_texts(w, "bag", &way->plan.bag);
    json_texts(w, "advice", &way->plan.advice);
    return true;
}

static void failure_out(const struct failure *f, struct json_out *w)
{
    json_object(w, NULL);
    json_text(w, "subject", f->subject);
    json_texts(w, "silent", &f->silent);
    json_texts(w, "moved", &f->moved);
    json_texts(w, "uncontrolled", &f->uncontrolled);
    if (way_open(w, "recovery", &f->back))
        json_end(w);
    json_text(w, "text", f->back.plan.feasible ? f->back.text : f->back.plan.why_not);
    if (way_open(w, "meanwhile", &f->meanwhile)) {
        json_texts(w, "without", &f->meanwhile.without);
        json_end(w);
    }
    json_end(w);
}

void json_failures(const struct derived *d, struct json_out *w)
{
    struct failures all = failures_make(d->circuit->booth);
    json_array(w, "failures");
    for (size_t i = 0; i < all.n; i++)
        failure_out(&all.v[i], w);
    json_end(w);
    failures_clear(&all);
}
