/* Laying out a booth: the same straight picture for every way into the mixer.
 *
 *   P1   P2   P3   P4         from left to right
 *   |    |    |    |          line cables
 *   3    1    2    4          strips, by their printed numbers
 *   H3   H1   H2   H4         decks, by the strips' numbers
 *
 * What differs is by which input a strip is fed, and which card carries its pair. */
#include "model/layout.h"

#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "model/change.h"
#include "model/shape.h"
#include "model/thing.h"

enum { USUAL_OUTPUTS = 4 }; /* of an interface, as thing_add() makes it */

/* What is being laid out. The strips are those of the first device, the mixer. */
struct plot {
    struct booth *b;
    const struct layout *asked;
    size_t strips;
    size_t by_label[MAX_STRIPS]; /* places (from 0) of the strips, by their printed numbers */
    int deck_at[MAX_STRIPS];     /* the deck at each place, or -1 */
};

static void set_jack(char name[REF_SIZE], const char *owner, const char *jack)
{
    snprintf(name, REF_SIZE, "%.32s.%.32s", owner, jack);
}

static struct strip *strip_at(struct plot *p, size_t place)
{
    return &p->b->devices.v[0].strips.v[place];
}

static struct device *player_at(struct plot *p, size_t place)
{
    return &p->b->devices.v[place + (p->strips > 0)];
}

static void run_cable(struct booth *b, const struct device *from, const char *output,
                      const char *strip, const char *input)
{
    struct cable *c = records_add(shape_field(&shape_booth, "cables"), &b->cables);
    set_jack(c->from, from->id, output);
    set_jack(c->to, strip, input);
}

/* --- the mixer ---------------------------------------------------------------------------------
 */

static bool add_strip(struct plot *p, const char *label, size_t n, struct err *e)
{
    char text[LABEL_MAX + 1];
    if (n > LABEL_MAX)
        return err_set(e, ERR_USAGE, "", "a strip's label has at most %d bytes", LABEL_MAX);
    /* a mixer comes with its first strip */
    if (!thing_add(p->b, p->strips ? THING_STRIP : THING_MIXER, NULL, e))
        return false;
    memcpy(text, label, n);
    text[n] = '\0';
    text_set(&strip_at(p, p->strips++)->label, text);
    return true;
}

static bool add_strips(struct plot *p, struct err *e)
{
    const char *at = p->asked->strips ? p->asked->strips : "", *blanks = " \t\n";
    for (at += strspn(at, blanks); *at; at += strspn(at, blanks)) {
        size_t n = strcspn(at, blanks);
        if (!add_strip(p, at, n, e))
            return false;
        at += n;
    }
    return true;
}

/* Numbers by their value and before other labels, those by their letters. */
static int compare_labels(const char *x, const char *y)
{
    bool x_number = x[strspn(x, "0123456789")] == '\0';
    bool y_number = y[strspn(y, "0123456789")] == '\0';
    if (x_number != y_number)
        return x_number ? -1 : 1;
    x += x_number ? strspn(x, "0") : 0;
    y += y_number ? strspn(y, "0") : 0;
    if (x_number && strlen(x) != strlen(y))
        return strlen(x) < strlen(y) ? -1 : 1;
    return strcmp(x, y);
}

static void sort_strips(struct plot *p)
{
    for (size_t i = 0; i < p->strips; i++) {
        size_t at = i;
        for (; at > 0; at--) {
            const char *before = strip_at(p, p->by_label[at - 1])->label;
            if (compare_labels(before, strip_at(p, i)->label) <= 0)
                break;
            p->by_label[at] = p->by_label[at - 1];
        }
        p->by_label[at] = i;
    }
}

/* --- players and decks -------------------------------------------------------------------------
 */

static bool add_players(struct plot *p, struct err *e)
{
    for (int i = 0; i < p->asked->players; i++) {
        if (!thing_add(p->b, THING_PLAYER, NULL, e))
            return false;
        struct device *player = player_at(p, (size_t)i);
        text_set(&player->model, p->asked->model);
        if ((size_t)i < p->strips)
            run_cable(p->b, player, "line", strip_at(p, (size_t)i)->id, "line");
    }
    return true;
}

/* Whether the way leads to the strip at a place. */
static bool way_reaches(const struct plot *p, size_t place)
{
    return p->asked->way != WAY_PLAYER_CARDS || place < (size_t)p->asked->players;
}

static bool add_decks(struct plot *p, struct err *e)
{
    size_t next = 0;
    for (size_t i = 0; i < p->strips; i++)
        p->deck_at[i] = -1;
    for (int i = 0; i < p->asked->decks; i++) {
        if (!thing_add(p->b, THING_DECK, NULL, e))
            return false;
        while (next < p->strips && !way_reaches(p, p->by_label[next]))
            next++;
        if (next == p->strips)
            continue;
        size_t place = p->by_label[next++];
        strcpy(p->b->decks.v[i].wants, strip_at(p, place)->id);
        p->deck_at[place] = i;
    }
    return true;
}

static void set_deck(struct plot *p, size_t place, int first_channel)
{
    if (p->deck_at[place] >= 0)
        p->b->decks.v[p->deck_at[place]].set_to = (struct pair){first_channel, first_channel + 1};
}

/* --- the ways ----------------------------------------------------------------------------------
 */

/* Ports for the joined: the laptop's own, or a hub's. */
static void plug_in(struct booth *b)
{
    const char *at = "host";
    if (b->joined.n > (size_t)b->host.usb_ports) {
        struct hub *hub = records_add(shape_field(&shape_booth, "hubs"), &b->hubs);
        strcpy(hub->id, "hub1");
        text_set(&hub->label, "Hub");
        hub->ports = b->joined.n <= 4 ? 4 : b->joined.n <= 7 ? 7 : (int)b->joined.n;
        hub->self_powered = true;
        hub->plugged = (struct plug){"host", 1};
        at = hub->id;
    }
    for (size_t i = 0; i < b->joined.n; i++) {
        const struct device *d = booth_device(b, b->joined.v[i]);
        struct plug *plug = &b->devices.v[d - b->devices.v].plugged;
        plug->port = thing_free_port(b, at);
        strcpy(plug->at, at);
    }
}

static bool go_by_players(struct plot *p, struct err *e)
{
    struct booth *b = p->b;
    for (size_t place = 0; place < p->strips; place++) {
        if (p->deck_at[place] < 0)
            continue;
        struct device *player = player_at(p, place);
        set_deck(p, place, 2 * (int)b->joined.n);
        texts_add(&b->joined, player->id);
        player->source = SOURCE_COMPUTER;
        player->control = CONTROL_HID;
        strcpy(b->decks.v[p->deck_at[place]].controlled_by, player->id);
    }
    b->host.combining = COMBINING_BY_HAND;
    if (b->joined.n < 2)
        return true;
    b->host.drift_correction = true;
    struct change save = change_of(CHANGE_COMBINE, NULL, NULL);
    return !p->asked->model || change_make(b, &save, e);
}

static void add_input(struct strip *s, const char *id, enum level level, int first_channel)
{
    struct input *in = records_add(shape_field(&shape_strip, "inputs"), &s->inputs);
    strcpy(in->id, id);
    in->level = level;
    strcpy(s->selected, id);
    if (level != LEVEL_USB) {
        in->connector = CONNECTOR_RCA;
        return;
    }
    ints_add(&in->channels, first_channel);
    ints_add(&in->channels, first_channel + 1);
}

static void go_by_mixer(struct plot *p)
{
    if (p->strips == 0)
        return;
    struct device *mixer = &p->b->devices.v[0];
    mixer->card = mem_new(1, sizeof *mixer->card);
    record_init(&shape_card, mixer->card);
    mixer->card->out_channels = 2 * (int)p->strips;
    for (size_t i = 0; i < p->strips; i++) {
        add_input(strip_at(p, p->by_label[i]), "usb", LEVEL_USB, 2 * (int)i + 1);
        set_deck(p, p->by_label[i], 2 * (int)i);
    }
    texts_add(&p->b->joined, mixer->id);
}

static void add_output(struct device *interface, int number)
{
    struct output *o = records_add(shape_field(&shape_device, "outputs"), &interface->outputs);
    snprintf(o->id, sizeof o->id, "o%d", number);
    o->connector = CONNECTOR_TRS;
    o->level = LEVEL_LINE;
    ints_add(&o->channels, 2 * number - 1);
    ints_add(&o->channels, 2 * number);
}

static bool go_by_interface(struct plot *p, struct err *e)
{
    if (p->strips == 0)
        return true;
    if (!thing_add(p->b, THING_INTERFACE, NULL, e))
        return false;
    struct device *interface = &p->b->devices.v[p->b->devices.n - 1];
    for (int n = USUAL_OUTPUTS + 1; n <= (int)p->strips; n++)
        add_output(interface, n);
    interface->card->out_channels = 2 * (int)interface->outputs.n;
    interface->plugged = (struct plug){"", 0};
    for (size_t i = 0; i < p->strips; i++) {
        struct strip *s = strip_at(p, p->by_label[i]);
        add_input(s, "line-2", LEVEL_LINE, 0);
        run_cable(p->b, interface, interface->outputs.v[i].id, s->id, "line-2");
        set_deck(p, p->by_label[i], 2 * (int)i);
    }
    texts_add(&p->b->joined, interface->id);
    return true;
}

static bool go(struct plot *p, struct err *e)
{
    if (p->asked->way == WAY_PLAYER_CARDS)
        return go_by_players(p, e);
    if (p->asked->way == WAY_PATCHED)
        return go_by_interface(p, e);
    go_by_mixer(p);
    return true;
}

static bool lay_out(struct plot *p, struct err *e)
{
    if (p->asked->players < 0 || p->asked->decks < 0)
        return err_set(e, ERR_USAGE, "", "there cannot be fewer than no players or decks");
    if (!add_strips(p, e) || !add_players(p, e))
        return false;
    sort_strips(p);
    if (!add_decks(p, e))
        return false;
    if (!go(p, e))
        return false;
    plug_in(p->b);
    return true;
}

struct booth *booth_laid_out(const struct layout *l, struct err *e)
{
    bool named = l->venue && *l->venue;
    struct plot p = {.b = booth_new(named ? l->venue : "New venue"), .asked = l};
    if (named && strlen(l->venue) > LABEL_MAX)
        err_set(e, ERR_USAGE, "", "a venue's name has at most %d bytes", LABEL_MAX);
    else if (lay_out(&p, e))
        return p.b;
    booth_free(p.b);
    return NULL;
}
