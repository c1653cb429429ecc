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

void derived_next(const struct derived *d, struct str *out)
{
    const struct booth *b = d->circuit->booth;
    if (b->devices.n == 0) {
        str_add(out, "add what stands in the booth");
        return;
    }
    for (size_t i = 0; i < d->faults.count[SEVERITY_ERROR]; i++) {
        const struct fault *f = &d->faults.v[i];
        if (!f->fix_text)
            continue;
        str_add(out, f->fix_text);
        return;
    }
    if (d->faults.count[SEVERITY_ERROR]) {
        str_add(out, d->faults.v[0].text);
        return;
    }
    int at = steps_current(&d->steps);
    str_add(out, at < 0 ? "all steps are done: save, and enjoy the night" : d->steps.v[at].text);
}
