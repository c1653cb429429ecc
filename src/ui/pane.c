/* What all panes share: the table, a cursor over items, scrolling, clicks. */
#include "ui/pane.h"

#include "base/mem.h"

static const struct pane panes[] = {
    [PANE_FAULTS] = {"Faults", pane_faults_lines, pane_faults_act, pane_faults_look_at},
    [PANE_CHECKLIST] = {"Checklist", pane_checklist_lines, pane_checklist_act, NULL},
    [PANE_ROUTES] = {"Routes for the host", pane_routes_lines, NULL, pane_routes_look_at},
    [PANE_DETAILS] = {"Details", pane_details_lines, NULL, NULL},
    [PANE_PLAN] = {"Plan: least work", pane_plan_lines, pane_plan_act, NULL},
    [PANE_VISIT] = {"Since last time", pane_visit_lines, pane_visit_act, NULL},
    [PANE_FAILURES] = {"If it fails", pane_failures_lines, pane_failures_act, NULL},
    [PANE_CHECK] = {"Line check", pane_check_lines, pane_check_act, NULL},
    [PANE_BUDGET] = {"Budget", pane_budget_lines, NULL, pane_budget_look_at},
    [PANE_KEYS] = {"Keys", pane_keys_lines, NULL, NULL},
};

const struct pane *pane_of(enum pane_id id)
{
    return &panes[id];
}

/* The last column is left to the signs that there is more. */
int pane_columns(const struct app *a)
{
    return app_pane_rect(a).w - 1;
}

struct lines pane_lines(const struct app *a)
{
    struct lines l = {.width = pane_columns(a), .ascii = a->ascii};
    if (a->form)
        form_lines(a->form, &l);
    else
        panes[a->pane].lines(a, &l);
    return l;
}

static bool has_lines(const struct lines *l, int item)
{
    for (size_t i = 0; i < l->n; i++)
        if (l->v[i].item == item)
            return true;
    return false;
}

/* The item to stop at on the way from one to another: some items may have no lines. */
static int stop_at(const struct lines *l, int from, int item)
{
    int step = item < from ? -1 : 1;
    item = item >= l->items ? l->items - 1 : item < 0 ? 0 : item;
    for (int i = item; i >= 0 && i < l->items; i += step)
        if (has_lines(l, i))
            return i;
    for (int i = item; i >= 0 && i < l->items; i -= step)
        if (has_lines(l, i))
            return i;
    return 0;
}

void pane_move_to(struct app *a, int item)
{
    struct lines l = pane_lines(a);
    item = stop_at(&l, a->item[a->pane], item);
    a->item[a->pane] = item;
    lines_clear(&l);
    l = pane_lines(a); /* at the cursor there is more to say */
    a->pane_scroll[a->pane] = lines_scroll(&l, l.items ? item : -1, a->pane_scroll[a->pane],
                                           app_pane_rect(a).h);
    lines_clear(&l);
}

bool pane_reveal(struct app *a)
{
    struct lines l = pane_lines(a);
    int scroll = a->pane_scroll[a->pane], rows = app_pane_rect(a).h;
    bool seen = false;
    for (int row = 0; row < rows && l.items; row++)
        seen = seen || lines_item_at(&l, scroll, row) == a->item[a->pane];
    lines_clear(&l);
    if (!seen)
        pane_move_to(a, a->item[a->pane]);
    return seen;
}

struct spot pane_box(const struct booth *b, const char *name)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    const char *id = ref_split(name, owner, jack) ? owner : name;
    return spot_of(booth_deck(b, id)          ? SPOT_DECK
                   : booth_strip(b, id, NULL) ? SPOT_STRIP
                   : booth_device(b, id)      ? SPOT_DEVICE
                   : booth_hub(b, id)         ? SPOT_HUB
                                              : SPOT_NONE,
                   id);
}

void pane_select(struct app *a, const char *name)
{
    struct spot s = pane_box(app_booth(a), name);
    struct rect r;
    if (!s.kind || !canvas_where(a->canvas, &s, &r))
        return;
    a->selected = s;
    app_reveal(a);
}

/* Scrolls by rows; whether it moved. */
static bool scroll_by(struct app *a, int rows)
{
    struct lines l = pane_lines(a);
    int most = (int)l.n - app_pane_rect(a).h, before = a->pane_scroll[a->pane];
    int scroll = before + rows > most ? most : before + rows;
    a->pane_scroll[a->pane] = scroll < 0 ? 0 : scroll;
    lines_clear(&l);
    return a->pane_scroll[a->pane] != before;
}

void pane_wheel(struct app *a, int step)
{
    scroll_by(a, 3 * step);
}

enum effect pane_page(struct app *a, int step)
{
    if (!a->pane_shown || !scroll_by(a, step * (app_pane_rect(a).h - 1))) {
        app_say(a, true, a->pane_shown ? "there is no more of the pane" : "no pane is shown");
        return EFFECT_BELL;
    }
    return EFFECT_NONE;
}

static void look(struct app *a, int item)
{
    pane_move_to(a, item);
    if (panes[a->pane].look_at)
        panes[a->pane].look_at(a, a->item[a->pane]);
}

static enum effect act(struct app *a)
{
    return panes[a->pane].act ? panes[a->pane].act(a, a->item[a->pane]) : EFFECT_NONE;
}

static bool has_items(const struct app *a)
{
    struct lines l = pane_lines(a);
    bool any = l.items > 0;
    lines_clear(&l);
    return any;
}

/* The keys of a text without items. */
static void scroll_text(struct app *a, int key)
{
    enum { FAR = 1 << 20 };
    scroll_by(a, key == K_UP ? -3 : key == K_HOME ? -FAR : key == K_END ? FAR : 3);
}

enum effect pane_key(struct app *a, int key)
{
    int item = a->item[a->pane];
    if (!has_items(a)) {
        scroll_text(a, key);
        return EFFECT_NONE;
    }
    switch (key) {
    case K_UP:
        look(a, item - 1);
        break;
    case K_DOWN:
        look(a, item + 1);
        break;
    case K_HOME:
        look(a, 0);
        break;
    case K_END:
        look(a, 1 << 20);
        break;
    default: /* what was scrolled away is looked at before it is done */
        return pane_reveal(a) ? act(a) : EFFECT_NONE;
    }
    return EFFECT_NONE;
}

enum effect pane_click(struct app *a, int row)
{
    struct lines l = pane_lines(a);
    int item = lines_item_at(&l, a->pane_scroll[a->pane], row);
    bool reads = lines_read_at(&l, a->pane_scroll[a->pane], row), had_keys = a->pane_keys;
    bool here = item == a->item[a->pane];
    lines_clear(&l);
    a->pane_keys = true;
    if (item < 0 || (here && reads))
        return EFFECT_NONE;
    if (had_keys && here && panes[a->pane].act)
        return act(a);
    look(a, item);
    return EFFECT_NONE;
}
