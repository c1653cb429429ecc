/* Strokes of the canvas, and how what stands out is told: every stroke is measured in the layout
 * and moved into the window. */
#include "ui/canvas_pen.h"

#include <string.h>

#include "base/utf8.h"

struct rect across(int x, int y, int w)
{
    return (struct rect){x, y, w, 1};
}

void pen_put(const struct pen *p, struct rect r, enum look look, const char *text)
{
    if (r.w > 0)
        grid_put(p->g, r.x + p->dx, r.y + p->dy, r.w, look, text);
}

void pen_put_middle(const struct pen *p, struct rect r, enum look look, const char *text)
{
    int spare = r.w - utf8_columns(text, p->g->ascii);
    r.x += spare > 0 ? spare / 2 : 0;
    pen_put(p, r, look, text);
}

struct cell *pen_cell(const struct pen *p, int x, int y)
{
    return grid_at(p->g, x + p->dx, y + p->dy);
}

void pen_frame(const struct pen *p, struct rect r, enum line line, enum look look)
{
    grid_frame(p->g, r.x + p->dx, r.y + p->dy, r.w, r.h, line, look);
}

void pen_join(const struct pen *p, int x, int y, unsigned arm)
{
    struct cell *c = pen_cell(p, x, y);
    if (c && c->arms)
        c->arms = (unsigned char)(c->arms | arm);
}

/* --- what stands out -------------------------------------------------------------------------- */

bool pen_marks(const struct spot *mark, const struct spot *s)
{
    return mark->kind != SPOT_NONE && spot_same(mark, s);
}

bool pen_names(const struct pen *p, const char *name)
{
    for (size_t i = 0; p->m->named && i < p->m->named->n; i++)
        if (strcmp(p->m->named->v[i], name) == 0)
            return true;
    return false;
}

struct style pen_style(const struct pen *p, const struct spot *s, const char *in_use)
{
    if (pen_marks(&p->m->carried, s))
        return (struct style){LINE_HEAVY, LOOK_CARRIED, false};
    if (pen_marks(&p->m->target, s))
        return (struct style){LINE_DASHED, LOOK_CARRIED, false};
    if (pen_marks(&p->m->selected, s))
        return (struct style){LINE_HEAVY, LOOK_SELECTED, false};
    if (pen_names(p, s->name))
        return (struct style){LINE_LIGHT, LOOK_ERROR, false};
    if (in_use)
        return (struct style){LINE_HEAVY, LOOK_IN_USE, false};
    return (struct style){LINE_LIGHT, s->kind == SPOT_DECK ? LOOK_DECK : LOOK_PLAIN, true};
}
