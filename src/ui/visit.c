/* Made once for each state of the booth: in the fullest booth, with every cable elsewhere, the work
 * alone takes longer than a frame. */
#include "ui/visit.h"

#include "base/mem.h"

struct visit *visit_make(const struct booth *opened, const struct booth *now, bool whole)
{
    struct visit *v = mem_new(1, sizeof *v);
    v->before = circuit_new(opened);
    v->since = compare_make(opened, now);
    v->whole = whole;
    if (whole && (v->since.n || v->since.n_routes))
        v->work = compare_work(opened, now);
    if (whole)
        v->back = restore_make(now);
    return v;
}

void visit_free(struct visit *v)
{
    if (!v)
        return;
    restore_clear(&v->back);
    if (v->work)
        compare_work_free(v->work);
    comparison_clear(&v->since);
    circuit_free(v->before);
    mem_free(v);
}
