/* Recomputed whole at every change: the largest booth takes a fraction of a frame. */
#include "engine/derived.h"

#include "base/mem.h"

struct derived *derived_make(const struct booth *b)
{
    struct derived *d = mem_new(1, sizeof *d);
    d->circuit = circuit_new(b);
    d->routes = mem_new(b->decks.n, sizeof *d->routes);
    for (size_t i = 0; i < b->decks.n; i++)
        d->routes[i] = route_of(d->circuit, (int)i);
    d->heard = heard_make(d->circuit);
    d->faults = faults_find(d->circuit);
    d->steps = steps_make(d->circuit);
    return d;
}

void derived_free(struct derived *d)
{
    if (!d)
        return;
    steps_clear(&d->steps);
    faults_clear(&d->faults);
    heard_clear(&d->heard);
    mem_free(d->routes);
    circuit_free(d->circuit);
    mem_free(d);
}

/* The first error that a change can mend or advice helps, else the first; NULL: there is none. */
static const struct fault *first_error(const struct faults *faults, const struct spared *spared)
{
    const struct fault *first = NULL;
    for (size_t i = 0; i < faults->count[SEVERITY_ERROR]; i++) {
        const struct fault *f = &faults->v[i];
        if (spared_has_fault(spared, f))
            continue;
        if (f->fix_text)
            return f;
        first = first ? first : f;
    }
    return first;
}

static const struct step *first_step(const struct steps *steps, const struct spared *spared)
{
    for (size_t i = 0; i < steps->n; i++)
        if (!steps->v[i].done && !spared_has_step(spared, steps->v[i].id))
            return &steps->v[i];
    return NULL;
}

void derived_next(const struct derived *d, const struct spared *spared, struct str *out)
{
    const struct fault *f = first_error(&d->faults, spared);
    const struct step *step = first_step(&d->steps, spared);
    str_add(out, d->circuit->booth->devices.n == 0 ? "add what stands in the booth"
                 : spared->instead                 ? spared->instead
                 : f                               ? (f->fix_text ? f->fix_text : f->text)
                 : step                            ? step->text
                        : "all steps are done: save, and enjoy the night");
}
