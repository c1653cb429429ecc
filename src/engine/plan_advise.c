/* What a plan's minutes do not count: whether its cards get enough current, their buses have time,
 * and what controls the decks is there. */
#include <string.h>

#include "base/mem.h"
#include "engine/plan_parts.h"
#include "engine/timing.h"
#include "engine/usb.h"
#include "model/say.h"

/* --- power ------------------------------------------------------------------------------------ */

/* Whether a thing, or a hub on its way to the laptop, is fed too little. */
static bool hungry(const struct booth *b, const char *id, const struct plug *plug)
{
    for (size_t hops = 0; *plug->at && plug->port && hops <= b->hubs.n; hops++) {
        if (usb_hunger(b, id, plug->at) != USB_FED)
            return true;
        const struct hub *above = booth_hub(b, plug->at);
        if (!above)
            return false;
        id = above->id;
        plug = &above->plugged;
    }
    return false;
}

/* The first of the joined, from one on, that gets too little; the number of the joined: none. */
static size_t first_hungry(const struct booth *b, size_t from)
{
    while (from < b->joined.n) {
        const struct device *d = booth_device(b, b->joined.v[from]);
        if (hungry(b, d->id, &d->plugged))
            break;
        from++;
    }
    return from;
}

/* A free port that feeds it, if nobody uses it; port 0: there is none. */
static struct plug feeding_port(const struct booth *b, const char *id)
{
    struct change c = change_of(CHANGE_PLUG, id, NULL);
    struct plug p = {.port = 0};
    if (!change_touches_in_use(b, &c))
        p = free_port(b, id, true);
    return p;
}

void tend_power(struct telling *t)
{
    struct booth *b = booth_copy(t->p->after);
    bool starved = false;
    for (size_t i = first_hungry(b, 0); i < b->joined.n; i = first_hungry(b, i + 1)) {
        struct plug port = feeding_port(b, b->joined.v[i]);
        struct change c = change_of(CHANGE_PLUG, b->joined.v[i], port.at);
        struct str text = {0};
        struct err e;
        c.number = port.port;
        starved = starved || !port.port;
        if (!port.port)
            continue;
        change_say(b, &c, &text);
        str_add(&text, ": where it is it gets too little current");
        texts_add(&t->p->advice, str_text(&text));
        str_clear(&text);
        change_make(b, &c, &e); /* what others then get */
    }
    if (starved && !t->brings_hub)
        plan_pack(t->p, "hub with a supply of its own: a port gives too little current");
    booth_free(b);
}

/* --- traffic ---------------------------------------------------------------------------------- */

static bool too_busy(const struct booth *b)
{
    for (size_t i = 0; i < b->joined.n; i++) {
        struct usb_lane lane = usb_lane_of(b, booth_device(b, b->joined.v[i]));
        if (lane.at && usb_traffic_over(lane, usb_traffic_of(b, lane)))
            return true;
    }
    return false;
}

/* The highest rate that all joined cards have and their buses carry; 0 for none. */
static int bearable_rate(const struct booth *b)
{
    struct ints rates = timing_common_rates(b);
    struct booth *trial = booth_copy(b);
    int rate = 0;
    for (size_t i = rates.n; i-- > 0 && !rate;) {
        trial->host.rate_hz = rates.v[i];
        if (rates.v[i] < b->host.rate_hz && !too_busy(trial))
            rate = rates.v[i];
    }
    booth_free(trial);
    mem_free(rates.v);
    return rate;
}

void advise_for_traffic(struct telling *t)
{
    const struct booth *b = t->p->after;
    struct str text = {0};
    if (!too_busy(b))
        return;
    int rate = bearable_rate(b);
    if (rate) {
        str_add(&text, "set the laptop to ");
        say_rate(rate, &text);
    } else {
        str_add(&text, "use fewer channels, or plug some cards in elsewhere");
    }
    str_add(&text, ": a bus has too little time");
    texts_add(&t->p->advice, str_text(&text));
    str_clear(&text);
}

/* --- control ---------------------------------------------------------------------------------- */

/* What hands must still do so that a device can control, said before and after its name; NULL:
 * nothing. */
static const char *const *lacks_for_control(const struct telling *t, const struct device *d)
{
    static const char *const lead[] = {"plug in ", ""};
    static const char *const source[] = {"switch ", " to the computer"};
    bool player = d->kind == KIND_PLAYER;
    if ((player || d->kind == KIND_CONTROLLER) && is_loose(t->a, &d->plugged))
        return lead;
    return player && d->source == SOURCE_OWN_MEDIA ? source : NULL;
}

void advise_for_control(struct telling *t)
{
    const struct booth *b = t->p->after;
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        const char *const *lacks = lacks_for_control(t, d);
        struct texts decks = {0};
        struct str text = {0};
        for (size_t k = 0; k < b->decks.n && lacks; k++)
            if (*b->decks.v[k].wants && strcmp(b->decks.v[k].controlled_by, d->id) == 0)
                texts_add(&decks, b->decks.v[k].id);
        if (decks.n && !is_dead(t->a, &t->a->b->devices.v[i])) {
            str_addf(&text, "%s%s%s as well: it controls ", lacks[0], d->label, lacks[1]);
            say_labels(b, &decks, &text);
            texts_add(&t->p->advice, str_text(&text));
        }
        str_clear(&text);
        texts_clear(&decks);
    }
}
