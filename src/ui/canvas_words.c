/* What the boxes say: short enough for them, long enough for a person. */
#include "ui/canvas_parts.h"

#include <stdio.h>
#include <string.h>

#include "base/utf8.h"
#include "engine/basis.h"

/* "1st", "2nd", "3rd", "4th", "11th". */
static void add_ordinal(int n, struct str *out)
{
    static const char *const ends[] = {"th", "st", "nd", "rd"};
    int last = n % 100 / 10 == 1 ? 0 : n % 10;
    str_addf(out, "%d%s", n, ends[last < 4 ? last : 0]);
}

/* Appends the first of the texts that fits, else the last of them, cut. */
static void add_fitting(struct str *out, int room, const char *const *texts)
{
    while (texts[1] && utf8_columns(texts[0], false) > room)
        texts++;
    str_add(out, texts[0]);
}

/* The channels of a joined card as the host counts them: "1/2", "1-8", "1"; nothing where it names
 * them by device, since the box does too. */
static void add_channels(const struct canvas *c, int device, struct str *out)
{
    const struct circuit_device *d = &c->c->devices[device];
    int shift = c->b->host.channel_names == NAMES_FROM_1 ? 1 : 0;
    int first = d->first + shift, last = first + d->channels - 1;
    if (c->b->host.channel_names == NAMES_BY_DEVICE)
        return;
    str_addf(out, "%d", first);
    if (d->channels > 1)
        str_addf(out, "%c%d", d->channels == 2 ? '/' : '-', last);
}

void canvas_say_place(const struct canvas *c, int device, int room, struct str *out)
{
    static const char *const not_in[] = {"not in interface", "not joined", "not in", NULL};
    static const char *const no_card[] = {"no sound card", "no card", "", NULL};
    const struct circuit_device *d = &c->c->devices[device];
    struct str place = {0}, channels = {0};
    if (d->joined < 0) {
        add_fitting(out, room, d->channels ? not_in : no_card);
        return;
    }
    add_ordinal(d->joined + 1, &place);
    add_channels(c, device, &channels);
    int used = (int)(place.len + channels.len), spare = channels.len ? room - used : 0;
    if (spare >= 0)
        str_addf(out, "%s%s", str_text(&place), spare > 1 ? "  " : spare ? " " : "");
    if (spare != 0 || !channels.len)
        str_add(out, str_text(&channels));
    str_clear(&place);
    str_clear(&channels);
}

/* A port of a hub with as much of its name as there is room for: "Smal~ 1", "S~1". */
static void brief_lead(const char *hub, int port, int room, char *out, size_t size)
{
    char number[16];
    struct str label = {0};
    int left = room - snprintf(number, sizeof number, "%d", port);
    if (left > 1)
        utf8_safe(&label, hub, left > 3 ? left - 1 : left, false);
    snprintf(out, size, "%s%s%s", str_text(&label), left > 3 ? " " : "", number);
    str_clear(&label);
}

void canvas_say_lead(const struct canvas *c, const struct plug *p, int room, struct str *out)
{
    char full[160], medium[160], brief[160];
    const char *at = booth_label(c->b, p->at);
    if (!p->at[0]) {
        static const char *const none[] = {"no data lead", "no lead", "none", NULL};
        add_fitting(out, room, none);
        return;
    }
    if (p->port == 0) {
        static const char *const in[] = {"built into laptop", "built in", "in", NULL};
        add_fitting(out, room, in);
        return;
    }
    snprintf(full, sizeof full, "%s port %d", at, p->port);
    snprintf(medium, sizeof medium, "%s %d", at, p->port);
    if (strcmp(p->at, "host") == 0)
        snprintf(brief, sizeof brief, "port%d", p->port); /* of nothing else without saying so */
    else
        brief_lead(at, p->port, room, brief, sizeof brief);
    const char *const texts[] = {full, medium, brief, NULL};
    add_fitting(out, room, texts);
}

void canvas_say_no_pair(const struct canvas *c, int deck, int room, struct str *out)
{
    static const char *const no_strip[] = {"no strip", "-", NULL};
    static const char *const no_route[] = {"no route", "none", NULL};
    add_fitting(out, room, c->c->decks[deck].wants < 0 ? no_strip : no_route);
}

void canvas_say_card(const struct canvas *c, int device, int room, struct str *out)
{
    struct str place = {0}, lead = {0};
    const struct device *d = circuit_device(c->c, device);
    canvas_say_place(c, device, room, &place);
    if (d->card)
        canvas_say_lead(c, &d->plugged, room, &lead);
    str_addf(out, "%s%s%s", str_text(&place), lead.len ? ", " : "", str_text(&lead));
    if (utf8_columns(str_text(out), false) > room) {
        str_cut(out, 0);
        canvas_say_place(c, device, room, out);
    }
    str_clear(&place);
    str_clear(&lead);
}

bool canvas_deck_is_stale(const struct canvas *c, int deck)
{
    const struct pair set = c->c->decks[deck].set_to;
    const struct route *r = &c->d->routes[deck];
    return set.left >= 0 && r->there && (set.left != r->pair.left || set.right != r->pair.right);
}

/* Notes one thing heard of a deck whose route is r. */
static void hear_guest(struct guest *g, const struct sound *s, const struct route *r)
{
    bool single = r->there && r->pair.left == r->pair.right;
    if (!g->heard)
        g->rightly = true;
    g->heard = true;
    if (s->side != s->deck_side && !single)
        g->rightly = false;
}

/* Whether both sides of a deck are heard, where its route has two. */
static bool both_sides(const struct canvas *c, int strip, const struct guest *g)
{
    const struct heard *h = &c->d->heard;
    const struct route *r = &c->d->routes[g->deck];
    bool side[2] = {false, false};
    for (size_t i = 0; i < h->n; i++)
        if (h->v[i].strip == strip && h->v[i].deck == g->deck)
            side[h->v[i].side] = true;
    return (side[0] && side[1]) || (side[0] && r->there && r->pair.left == r->pair.right);
}

static struct guest *guest_for(struct guest *v, size_t *n, size_t max, int deck)
{
    for (size_t i = 0; i < *n; i++)
        if (v[i].deck == deck)
            return &v[i];
    if (*n == max)
        return NULL;
    v[*n] = (struct guest){.deck = deck};
    return &v[(*n)++];
}

size_t canvas_guests(const struct canvas *c, int strip, struct guest *v, size_t max)
{
    size_t n = 0;
    const struct heard *h = &c->d->heard;
    for (int i = 0; i < (int)c->c->n_decks; i++) {
        struct guest *g = c->c->decks[i].wants == strip ? guest_for(v, &n, max, i) : NULL;
        if (g)
            g->wants = true;
    }
    for (size_t i = 0; i < h->n; i++) {
        struct guest *g = h->v[i].strip == strip ? guest_for(v, &n, max, h->v[i].deck) : NULL;
        if (g)
            hear_guest(g, &h->v[i], &c->d->routes[g->deck]);
    }
    for (size_t i = 0; i < n; i++)
        if (v[i].heard && !both_sides(c, strip, &v[i]))
            v[i].rightly = false;
    return n;
}

/* What was heard at a strip, or NULL. */
static const struct mark *mark_at(const struct listen *l, const char *strip)
{
    for (size_t i = 0; l && i < l->heard.n; i++)
        if (strcmp(l->heard.v[i].strip, strip) == 0)
            return &l->heard.v[i];
    return NULL;
}

/* "ok", or what is wrong with the sides. */
static const char *sides_heard(const struct mark *m)
{
    bool left = m->left == EAR_LEFT || m->left == EAR_UNTOLD;
    bool right = m->right == EAR_RIGHT || m->right == EAR_UNTOLD;
    return m->right == EAR_NONE  ? "L only"
           : m->left == EAR_NONE ? "R only"
           : left && right       ? "ok"
                                 : "L/R?";
}

enum look canvas_say_listened(const struct canvas *c, int strip, int deck, struct str *out)
{
    const struct deck *d = &c->b->decks.v[deck];
    const struct listen *l = booth_listen(c->b, d->id);
    if (l && basis_is_old(c->b, l))
        l = NULL;
    const struct mark *m = mark_at(l, circuit_strip(c->c, strip)->id);
    const char *sides = m ? sides_heard(m) : "-";
    bool wants = c->c->decks[deck].wants == strip;
    if (wants)
        str_addf(out, "%s %s", d->label, l ? sides : "?");
    else if (m)
        str_addf(out, "!%s", d->label);
    return !l ? LOOK_PLAIN : wants && strcmp(sides, "ok") == 0 ? LOOK_GOOD : LOOK_ERROR;
}

static bool sounds_by_itself(const struct canvas *c, int device)
{
    const struct device *d = circuit_device(c->c, device);
    return d->kind == KIND_TURNTABLE || (d->kind == KIND_PLAYER && d->source == SOURCE_OWN_MEDIA);
}

int canvas_own_sound(const struct canvas *c, int strip)
{
    for (size_t i = 0; i < c->c->n_cables; i++) {
        const struct circuit_cable *k = &c->c->cables[i];
        int device = c->c->outputs[k->output].device;
        if (k->input == c->c->strips[strip].selected && sounds_by_itself(c, device))
            return device;
    }
    return -1;
}

/* Whether an output carries a channel of the interface. */
static bool carries(const struct canvas *c, const struct circuit_output *o, int channel)
{
    int on_card = channel - c->c->devices[o->device].first + 1;
    return channel >= 0 && on_card >= 1 && (o->carries[0] == on_card || o->carries[1] == on_card);
}

bool canvas_output_sounds(const struct canvas *c, int output)
{
    const struct circuit_output *o = &c->c->outputs[output];
    if (sounds_by_itself(c, o->device))
        return true;
    for (int i = 0; i < (int)c->c->n_decks && c->c->devices[o->device].joined >= 0; i++) {
        struct pair p = route_effective(c->c, i);
        if (carries(c, o, p.left) || carries(c, o, p.right))
            return true;
    }
    return false;
}
