/* The selected box in words: what it is, and for a deck its way hop by hop. */
#include <string.h>

#include "base/mem.h"
#include "model/shape.h"
#include "ui/pane.h"

static void say(struct lines *out, const char *what, const char *value)
{
    if (value && *value)
        lines_addf(out, -1, LOOK_PLAIN, 4, "%s: %s", what, value);
}

static void head(struct lines *out, const char *kind, const char *label)
{
    lines_addf(out, -1, LOOK_STRONG, 2, "%s %s", kind, label);
}

/* --- a deck ----------------------------------------------------------------------------------- */

static void say_heard(const struct derived *d, int deck, struct lines *out)
{
    static const char *const side[] = {"left", "right"};
    bool any = false;
    for (size_t i = 0; i < d->heard.n; i++) {
        const struct sound *s = &d->heard.v[i];
        if (s->deck != deck)
            continue;
        any = true;
        lines_addf(out, -1, LOOK_PLAIN, 4, "heard: its %s on strip %s, %s", side[s->deck_side],
                   circuit_strip(d->circuit, s->strip)->label, side[s->side]);
    }
    if (!any)
        lines_add(out, -1, LOOK_WARNING, 4, "heard: nowhere");
}

/* The name of one hop of a path: "p1.line" as "P1's line". */
static void hop_name(const struct booth *b, const char *hop, struct str *out)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    bool is_jack = ref_split(hop, owner, jack);
    const char *id = is_jack ? owner : hop;
    if (booth_strip(b, id, NULL))
        str_add(out, "strip ");
    str_add(out, booth_label(b, id));
    if (is_jack)
        str_addf(out, "'s %s", jack);
}

static void say_path(const struct derived *d, int deck, struct lines *out)
{
    struct texts path = {0};
    struct str pair = {0}, hop = {0};
    const struct route *r = &d->routes[deck];
    route_path(d->circuit, deck, r, &path);
    route_show(d->circuit, r->there ? r->pair : (struct pair){-1, -1}, &pair);
    lines_addf(out, -1, r->there ? LOOK_STRONG : LOOK_ERROR, 4, "route: %s",
               r->there ? str_text(&pair) : "none; the faults say why");
    for (size_t i = 0; i < path.n; i++) {
        str_clear(&hop);
        hop_name(d->circuit->booth, path.v[i], &hop);
        lines_addf(out, -1, LOOK_DECK, 6, "%s %s", i ? "  ->" : "    ", str_text(&hop));
    }
    texts_clear(&path);
    str_clear(&pair);
    str_clear(&hop);
}

static void deck_lines(const struct derived *d, const struct deck *k, struct lines *out)
{
    const struct booth *b = d->circuit->booth;
    int deck = (int)(k - b->decks.v);
    struct str set = {0};
    head(out, "host deck", k->label);
    say(out, "wants strip", *k->wants ? booth_label(b, k->wants) : "none yet (undecided)");
    say(out, "controlled by", *k->controlled_by ? booth_label(b, k->controlled_by) : "nothing");
    route_show(d->circuit, k->set_to, &set);
    say(out, "set to", k->set_to.left < 0 ? "not set" : str_text(&set));
    str_clear(&set);
    say_path(d, deck, out);
    say_heard(d, deck, out);
}

/* --- the others ------------------------------------------------------------------------------- */

static void say_plug(const struct booth *b, const struct plug *p, struct lines *out)
{
    if (!*p->at)
        say(out, "data lead", "not plugged in");
    else if (!p->port)
        say(out, "data lead", "built in");
    else
        lines_addf(out, -1, LOOK_PLAIN, 4, "data lead: %s, port %d", booth_label(b, p->at),
                   p->port);
}

static void say_card(const struct derived *d, const struct device *dev, struct lines *out)
{
    const struct card *card = dev->card;
    int at = booth_joined_at(d->circuit->booth, dev->id);
    if (!card)
        return;
    lines_addf(out, -1, LOOK_PLAIN, 4, "sound card: %d out, %d in, %d bit, clock %d ppm",
               card->out_channels, card->in_channels, card->bits, card->clock_ppm);
    if (at < 0) {
        say(out, "in the interface", "no (j joins it)");
        return;
    }
    struct str pair = {0};
    int first = d->circuit->devices[circuit_find_device(d->circuit, dev->id)].first;
    int last = first + card->out_channels - 1;
    route_show(d->circuit, (struct pair){first, last}, &pair);
    lines_addf(out, -1, LOOK_PLAIN, 4, "in the interface: number %d, channels %s", at + 1,
               str_text(&pair));
    str_clear(&pair);
}

static void say_outputs(const struct booth *b, const struct device *dev, struct lines *out)
{
    for (size_t i = 0; i < dev->outputs.n; i++) {
        const struct output *o = &dev->outputs.v[i];
        struct str name = {0}, to = {0};
        str_addf(&name, "%s.%s", dev->id, o->id);
        for (size_t k = 0; k < b->cables.n; k++) {
            const struct cable *c = &b->cables.v[k];
            if (strcmp(c->from, name.text) != 0)
                continue;
            str_add(&to, to.len ? ", " : " -> ");
            hop_name(b, c->to, &to);
            if (c->sides != SIDES_STRAIGHT)
                str_addf(&to, " (%s)", word_people(&words_sides, (int)c->sides));
        }
        lines_addf(out, -1, LOOK_PLAIN, 4, "output %s, %s%s", o->id,
                   word_people(&words_level, (int)o->level), to.len ? str_text(&to) : ": free");
        str_clear(&name);
        str_clear(&to);
    }
}

static void device_lines(const struct derived *d, const struct device *dev, struct lines *out)
{
    const struct booth *b = d->circuit->booth;
    head(out, word_people(&words_device_kind, (int)dev->kind), dev->label);
    say(out, "IN USE by", dev->in_use);
    say(out, "model", dev->model);
    say(out, "firmware", dev->firmware);
    say(out, "needs at least", dev->firmware_min);
    if (dev->kind == KIND_PLAYER)
        say(out, "source", word_people(&words_source, (int)dev->source));
    if (dev->control != CONTROL_NONE)
        say(out, "control", word_people(&words_control, (int)dev->control));
    say_plug(b, &dev->plugged, out);
    say_card(d, dev, out);
    say_outputs(b, dev, out);
    for (size_t i = 0; i < b->decks.n; i++)
        if (strcmp(b->decks.v[i].controlled_by, dev->id) == 0)
            say(out, "controls", b->decks.v[i].label);
}

static void strip_lines(const struct derived *d, const struct strip *s, const char *mixer,
                        struct lines *out)
{
    const struct booth *b = d->circuit->booth;
    head(out, "strip", s->label);
    say(out, "IN USE by", s->in_use);
    say(out, "of", mixer);
    say(out, "crossfader", word_people(&words_crossfader, (int)s->crossfader));
    for (size_t i = 0; i < s->inputs.n; i++) {
        const struct input *in = &s->inputs.v[i];
        bool on = strcmp(in->id, s->selected) == 0;
        struct str name = {0}, from = {0};
        str_addf(&name, "%s.%s", s->id, in->id);
        for (size_t k = 0; k < b->cables.n; k++)
            if (strcmp(b->cables.v[k].to, name.text) == 0) {
                str_add(&from, from.len ? ", " : " <- ");
                hop_name(b, b->cables.v[k].from, &from);
            }
        lines_addf(out, -1, on ? LOOK_STRONG : LOOK_PLAIN, 4, "%s %s, %s%s%s", on ? "(*)" : "( )",
                   in->id, word_people(&words_level, (int)in->level),
                   in->levels.n > 1 ? " (switch: l)" : "", str_text(&from));
        str_clear(&name);
        str_clear(&from);
    }
    for (size_t i = 0; i < b->decks.n; i++)
        if (strcmp(b->decks.v[i].wants, s->id) == 0)
            say(out, "wanted by", b->decks.v[i].label);
}

static void hub_lines(const struct booth *b, const struct hub *h, struct lines *out)
{
    head(out, "hub", booth_label(b, h->id));
    lines_addf(out, -1, LOOK_PLAIN, 4, "%d ports, %s", h->ports,
               h->self_powered ? "its own supply" : "powered by the port");
    say_plug(b, &h->plugged, out);
    for (size_t i = 0; i < b->devices.n; i++)
        if (strcmp(b->devices.v[i].plugged.at, h->id) == 0)
            lines_addf(out, -1, LOOK_PLAIN, 4, "port %d: %s", b->devices.v[i].plugged.port,
                       b->devices.v[i].label);
}

void pane_details_lines(const struct app *a, struct lines *out)
{
    const struct derived *d = app_shown(a);
    const struct booth *b = d->circuit->booth;
    const char *id = a->selected.name;
    const struct device *mixer = NULL, *dev = booth_device(b, id);
    const struct deck *deck = booth_deck(b, id);
    const struct strip *strip = booth_strip(b, id, &mixer);
    const struct hub *hub = booth_hub(b, id);
    if (deck)
        deck_lines(d, deck, out);
    else if (dev)
        device_lines(d, dev, out);
    else if (strip)
        strip_lines(d, strip, mixer->label, out);
    else if (hub)
        hub_lines(b, hub, out);
    else
        lines_add(out, -1, LOOK_DIM, 0, "Choose a box with the arrows or a click.");
    lines_add(out, -1, LOOK_DIM, 0, "Enter: change it in a form");
}
