/* Names for the search, a sentence for the pane. */
#include "ui/struck.h"

#include <string.h>

#include "base/mem.h"
#include "engine/basis.h"
#include "model/shape.h"

void struck_follow(struct struck *s, const struct booth *b)
{
    struct str basis = {0};
    basis_make(b, &basis);
    if (!s->basis || strcmp(s->basis, basis.text) != 0) {
        struck_clear(s);
        text_set(&s->basis, basis.text);
    }
    str_clear(&basis);
}

static bool has_name(const struct texts *names, const char *name)
{
    for (size_t i = 0; i < names->n; i++)
        if (strcmp(names->v[i], name) == 0)
            return true;
    return false;
}

static void add_name(const struct diagnosis *d, const struct explanation *e, struct texts *names)
{
    struct str name = {0};
    causes_name(d->believed, e->causes, e->n, &name);
    if (!has_name(names, str_text(&name)))
        texts_add(names, str_text(&name));
    str_clear(&name);
}

void struck_add(struct struck *s, const struct diagnosis *d, size_t i, size_t done)
{
    struct str says = {0};
    struct strike strike = {.done = done};
    explanation_say(d, i, &says);
    strike.says = mem_text(strstr(str_text(&says), ": ") + 2); /* the per cent are left out */
    for (size_t k = i; k < d->n; k++)
        if (d->v[k].first == i)
            add_name(d, &d->v[k], &strike.names);
    s->v = mem_grow(s->v, &s->cap, s->n + 1, sizeof *s->v);
    s->v[s->n++] = strike;
    str_clear(&says);
}

void struck_names(const struct struck *s, struct texts *out)
{
    for (size_t i = 0; i < s->n; i++)
        for (size_t k = 0; k < s->v[i].names.n; k++)
            texts_add(out, s->v[i].names.v[k]);
}

bool struck_last(const struct struck *s, size_t done)
{
    return s->n > 0 && s->v[s->n - 1].done >= done;
}

void struck_take_back(struct struck *s, size_t i)
{
    texts_clear(&s->v[i].names);
    mem_free(s->v[i].says);
    s->n--;
    memmove(&s->v[i], &s->v[i + 1], (s->n - i) * sizeof *s->v);
}

void struck_clear(struct struck *s)
{
    while (s->n)
        struck_take_back(s, s->n - 1);
    mem_free(s->v);
    mem_free(s->basis);
    *s = (struct struck){.basis = NULL};
}
