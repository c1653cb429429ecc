/* Steps done and steps undone, in one list with a mark between them. */
#include "model/history.h"

#include <assert.h>

#include "base/mem.h"
#include "model/edit.h"
#include "model/sound.h"

struct step {
    struct edits edits;
    char *what;
};

struct history {
    struct booth *now;
    struct step *steps;
    size_t n, cap;
    size_t done;  /* steps before this one are done, the others undone */
    size_t saved; /* done as it was at the last save; n + 1 at least when that is out of reach */
    bool reachable;
    unsigned long revision;
};

struct history *history_new(struct booth *b)
{
    struct history *h = mem_new(1, sizeof *h);
    h->now = b;
    h->revision = 1;
    h->reachable = true;
    return h;
}

static void drop_steps(struct history *h, size_t from)
{
    for (size_t i = from; i < h->n; i++) {
        edits_clear(&h->steps[i].edits);
        mem_free(h->steps[i].what);
    }
    h->n = from;
}

void history_free(struct history *h)
{
    if (!h)
        return;
    drop_steps(h, 0);
    mem_free(h->steps);
    booth_free(h->now);
    mem_free(h);
}

const struct booth *history_booth(const struct history *h)
{
    return h->now;
}

unsigned long history_revision(const struct history *h)
{
    return h->revision;
}

size_t history_done(const struct history *h)
{
    return h->done;
}

static void assert_sound(const struct booth *b)
{
#ifdef HARD
    struct err e;
    assert(booth_sound(b, &e));
#else
    (void)b;
#endif
}

bool history_commit(struct history *h, struct booth *next, const char *what)
{
    assert(what);
    struct edits edits = edits_between(h->now, next);
    if (edits.n == 0) {
        edits_clear(&edits);
        booth_free(next);
        return false;
    }
    assert_sound(next);
    if (h->saved > h->done)
        h->reachable = false;
    drop_steps(h, h->done);
    h->steps = mem_grow(h->steps, &h->cap, h->n + 1, sizeof *h->steps);
    h->steps[h->n++] = (struct step){edits, mem_text(what)};
    h->done = h->n;
    booth_free(h->now);
    h->now = next;
    h->revision++;
    return true;
}

const char *history_undo(struct history *h)
{
    if (h->done == 0)
        return NULL;
    struct step *s = &h->steps[--h->done];
    edits_undo(h->now, &s->edits);
    h->revision++;
    return s->what;
}

const char *history_redo(struct history *h)
{
    if (h->done == h->n)
        return NULL;
    struct step *s = &h->steps[h->done++];
    edits_apply(h->now, &s->edits);
    h->revision++;
    return s->what;
}

void history_saved(struct history *h)
{
    h->saved = h->done;
    h->reachable = true;
}

bool history_is_saved(const struct history *h)
{
    return h->reachable && h->saved == h->done;
}
