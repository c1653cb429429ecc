/* The table to type into the host: a deck, its pair, its strip. As large as the pane allows: seven
 * strokes a digit, so that it can be read at arm's length, on any terminal. */
#include <ctype.h>
#include <string.h>

#include "base/utf8.h"
#include "ui/pane.h"

/* Three rows of three columns a digit. */
static const char *const strokes[10][3] = {
    {" _ ", "| |", "|_|"}, {"   ", "  |", "  |"}, {" _ ", " _|", "|_ "}, {" _ ", " _|", " _|"},
    {"   ", "|_|", "  |"}, {" _ ", "|_ ", " _|"}, {" _ ", "|_ ", "|_|"}, {" _ ", "  |", "  |"},
    {" _ ", "|_|", "|_|"}, {" _ ", "|_|", " _|"}};
static const char *const slash[3] = {"   ", " / ", "/  "};

static bool only_digits(const char *pair)
{
    return strspn(pair, "0123456789/") == strlen(pair);
}

static void add_large(struct lines *out, int item, enum look look, const char *label,
                      const char *pair)
{
    for (int row = 0; row < 3; row++) {
        struct str line = {0};
        str_addf(&line, "%-6s", row == 1 ? label : "");
        for (const char *p = pair; *p; p++)
            str_addf(&line, "%s ", *p == '/' ? slash[row] : strokes[*p - '0'][row]);
        lines_add(out, item, look, 0, str_text(&line));
        str_clear(&line);
    }
}

static void add_deck(const struct app *a, int deck, bool large, struct lines *out)
{
    const struct derived *d = app_shown(a);
    const struct booth *b = d->circuit->booth;
    const struct deck *k = &b->decks.v[deck];
    const struct route *r = &d->routes[deck];
    struct str pair = {0}, set = {0};
    route_show(d->circuit, r->there ? r->pair : (struct pair){-1, -1}, &pair);
    route_show(d->circuit, k->set_to, &set);
    bool is_set = r->there && k->set_to.left == r->pair.left && k->set_to.right == r->pair.right;
    const char *strip = *k->wants ? booth_label(b, k->wants) : "-";
    enum look look = !r->there ? LOOK_ERROR : is_set ? LOOK_GOOD : LOOK_STRONG;
    if (large && r->there && only_digits(str_text(&pair)) && utf8_columns(k->label, a->ascii) < 6)
        add_large(out, deck, look, k->label, str_text(&pair));
    else
        lines_addf(out, deck, look, 4, "%s   %s", k->label,
                   r->there ? str_text(&pair) : "no route");
    lines_addf(out, deck, is_set ? LOOK_GOOD : LOOK_PLAIN, 6, "      strip %s, %s", strip,
               is_set               ? "set"
               : k->set_to.left < 0 ? "not set yet (s)"
                                    : str_text(&set));
    if (!is_set && k->set_to.left >= 0)
        lines_addf(out, deck, LOOK_WARNING, 6, "      ! now set to %s (s sets it)", str_text(&set));
    str_clear(&pair);
    str_clear(&set);
}

/* What the route was when the venue was opened, where that was something else. */
static void add_last_time(const struct visit *v, int deck, struct lines *out)
{
    const struct comparison *c = &v->since;
    for (size_t i = 0; i < c->n_routes; i++) {
        if (c->routes[i].deck != deck)
            continue;
        struct str was = {0};
        route_show(v->before, c->routes[i].before, &was);
        lines_addf(out, deck, LOOK_NOTE, 6, "      * last time %s", str_text(&was));
        str_clear(&was);
    }
}

void pane_routes_lines(const struct app *a, struct lines *out)
{
    const struct booth *b = app_shown(a)->circuit->booth;
    bool large = (int)b->decks.n * 4 <= app_pane_rect(a).h;
    lines_addf(out, -1, LOOK_DIM, 0, "the host %s",
               word_people(&words_channel_names, (int)b->host.channel_names));
    for (size_t i = 0; i < b->decks.n; i++) {
        add_deck(a, (int)i, large, out);
        if (a->visit)
            add_last_time(a->visit, (int)i, out);
    }
    if (b->decks.n == 0)
        lines_add(out, -1, LOOK_DIM, 0, "No host decks yet: a, then d, adds one.");
}

void pane_routes_look_at(struct app *a, int item)
{
    const struct decks *decks = &app_booth(a)->decks;
    if (item < (int)decks->n) {
        a->selected = spot_of(SPOT_DECK, decks->v[item].id);
        app_reveal(a);
    }
}
