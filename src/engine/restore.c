/* The survey against the booth: each difference is one thing that hands put back.
 *
 * The actions are made in turn on a copy, so that each is told of the booth as the ones before it
 * leave it. Plugs and leads that go nowhere else come out first; one that goes home may push out
 * another, which then goes home itself. What is in use stays, and with it whatever it stands in the
 * way of. */
#include "engine/restore.h"

#include <string.h>

#include "base/mem.h"
#include "engine/restore_parts.h"

static void put_switches_back(struct restoring *w)
{
    for (size_t i = 0; i < w->found->level.n; i++) {
        const struct entry *was = &w->found->level.v[i];
        struct in_end in;
        int level = was->value ? word_find(&words_level, was->value) : -1;
        if (!booth_input(w->b, was->key, &in))
            restore_leave_gone(w, (struct about){"switch", was->key, NULL});
        else if (level >= 0 && (int)in.input->level != level) {
            struct change c = change_of(CHANGE_SWITCH, was->key, NULL);
            c.number = level;
            restore_put_back(w, (struct about){"switch", was->key, NULL}, c);
        }
    }
}

static void put_selectors_back(struct restoring *w)
{
    for (size_t i = 0; i < w->found->selected.n; i++) {
        const struct entry *was = &w->found->selected.v[i];
        const struct strip *s = booth_strip(w->b, was->key, NULL);
        if (!s)
            restore_leave_gone(w, (struct about){"selector", was->key, NULL});
        else if (was->value && strcmp(s->selected, was->value) != 0)
            restore_put_back(w, (struct about){"selector", was->key, NULL},
                             change_of(CHANGE_SELECT, was->key, was->value));
    }
}

static void put_sources_back(struct restoring *w)
{
    for (size_t i = 0; i < w->found->source.n; i++) {
        const struct entry *was = &w->found->source.v[i];
        const struct device *d = booth_device(w->b, was->key);
        int source = was->value ? word_find(&words_source, was->value) : -1;
        if (!d)
            restore_leave_gone(w, (struct about){"source", was->key, NULL});
        else if (source >= 0 && (int)d->source != source) {
            struct change c = change_of(CHANGE_SOURCE, was->key, NULL);
            c.number = source;
            restore_put_back(w, (struct about){"source", was->key, NULL}, c);
        }
    }
}

struct restore restore_make(const struct booth *b)
{
    struct restore r = {0};
    struct restoring w = {.found = b->found, .out = &r};
    if (!b->found)
        return r;
    w.b = booth_copy(b);
    restore_cables(&w);
    put_switches_back(&w);
    put_selectors_back(&w);
    put_sources_back(&w);
    restore_leads(&w);
    booth_free(w.b);
    return r;
}

void restore_clear(struct restore *r)
{
    for (size_t i = 0; i < r->n; i++)
        mem_free(r->v[i].text);
    mem_free(r->v);
    *r = (struct restore){0};
}
