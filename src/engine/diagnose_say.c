/* Explanations in words. One fault in many places that sound the same is said once: a plug that is
 * somewhere else, and where it may be; not a line for every input of the mixer. */
#include "base/mem.h"
#include "engine/diagnose_parts.h"

/* --- what is said as one ---------------------------------------------------------------------- */

static const struct cause *alike_in(const struct explanation *e, const struct cause *k)
{
    for (int i = 0; i < e->n; i++)
        if (cause_alike(&e->causes[i], k))
            return &e->causes[i];
    return NULL;
}

static bool explanations_alike(const struct explanation *a, const struct explanation *b)
{
    bool alike = a->n == b->n;
    for (int i = 0; i < a->n && alike; i++)
        alike = alike_in(b, &a->causes[i]) != NULL;
    return alike;
}

/* The first of those that are said as one with the i-th; the sum of them is kept there. */
static size_t first_alike(struct diagnosis *d, size_t i)
{
    size_t k = 0;
    while (k < i && !(d->v[k].first == k && explanations_alike(&d->v[k], &d->v[i])))
        k++;
    d->v[i].together = 0;
    d->v[k].together += d->v[i].share;
    return k;
}

/* Puts an explanation among the lines, after all that are as likely. */
static void add_line(struct diagnosis *d, size_t i)
{
    size_t at = d->n_lines++;
    for (; at > 0 && d->v[d->lines[at - 1]].together < d->v[i].together; at--)
        d->lines[at] = d->lines[at - 1];
    d->lines[at] = i;
}

void gather(struct diagnosis *d)
{
    d->lines = mem_new(d->n, sizeof *d->lines);
    for (size_t i = 0; i < d->n; i++)
        d->v[i].first = first_alike(d, i);
    for (size_t i = 0; i < d->n; i++)
        if (d->v[i].first == i)
            add_line(d, i);
}

const struct explanation *diagnosis_line(const struct diagnosis *d, int n)
{
    return n >= 0 && (size_t)n < d->n_lines ? &d->v[d->lines[n]] : NULL;
}

/* --- in words --------------------------------------------------------------------------------- */

static bool among(const struct cause *const *v, size_t n, const struct cause *k)
{
    for (size_t i = 0; i < n; i++)
        if (cause_same(v[i], k))
            return true;
    return false;
}

/* Only what truly differs among those that are said as one is said to be elsewhere. */
void say_cause(const struct diagnosis *d, size_t i, int k, struct str *out)
{
    const struct explanation *e = &d->v[i];
    const struct cause **v = mem_new(d->n, sizeof(struct cause *));
    size_t n = 0;
    for (size_t m = i; m < d->n; m++) {
        const struct cause *there = d->v[m].first == e->first ? alike_in(&d->v[m], &e->causes[k])
                                                              : NULL;
        if (there && !among(v, n, there))
            v[n++] = there;
    }
    if (n > 1)
        cause_say_alike(d->believed, v, n, out);
    else
        cause_say_among(d->believed, e->causes, e->n, k, out);
    mem_free(v);
}

/* "H1, H2 and H3": the decks that are amiss. */
static void say_amiss(const struct diagnosis *d, struct str *out)
{
    size_t said = 0;
    for (size_t i = 0; i < d->believed->n_decks; i++) {
        if (!d->amiss[i])
            continue;
        str_add(out, said == 0 ? "" : said + 1 == d->n_amiss ? " and " : ", ");
        str_add(out, d->believed->booth->decks.v[i].label);
        said++;
    }
}

static void say_no_cause(const struct diagnosis *d, struct str *out)
{
    if (d->n_amiss == 0) {
        str_add(out, "what was heard is as it should be");
        return;
    }
    str_add(out, "that is what the booth gives as it is set and wired, but not what is wanted of ");
    say_amiss(d, out);
}

void explanation_say(const struct diagnosis *d, size_t i, struct str *out)
{
    const struct explanation *e = &d->v[i];
    int percent = (int)(e->together * 100 + 0.5);
    str_addf(out, percent ? "%d %%: " : "<1 %%: ", percent);
    for (int k = 0; k < e->n; k++) {
        str_add(out, k ? "; and " : "");
        say_cause(d, i, k, out);
    }
    if (e->n == 0)
        say_no_cause(d, out);
}

void diagnosis_say_cut(const struct diagnosis *d, struct str *out)
{
    if (d->cut)
        str_addf(out, "there were too many sets of %scauses to try them all",
                 d->n == 0 ? "three " : "");
    else if (d->n && d->more)
        str_add(out, "more explains it than is kept; check another deck to tell them apart");
}
