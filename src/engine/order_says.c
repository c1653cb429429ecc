/* The sentences of the checklist, in one table; $ and a letter stand for what a step is about.
 *
 * They start small and have no final stop, so that they read as well in a list as after a colon.
 * What is common practice without a published source says so at its end; PRACTICE adds that. */
#include "engine/order_says.h"

#include <assert.h>
#include <string.h>

#include "engine/route.h"
#include "model/say.h"

#define PRACTICE " (common practice, no source)"

#define SAFETY                                                                                     \
    "never lift a protective earth; leave damage and mains to the house and a licensed "           \
    "electrician; lift heavy cases in twos, keep leads off walkways"
#define COUNT                                                                                      \
    "a wrong count stops here: pull it out and do this step again; out of turn it takes the "      \
    "wrong channels, as does every one after it$y"
#define COMBINED                                                                                   \
    "one of other models never fits; one of the same models may be of other units or ports: "      \
    "count the channels, and let the line check prove the order"
#define EARS                                                                                       \
    "loud sound harms hearing: keep it low; local rules and whoever answers for safety at the "    \
    "venue come first"

static const struct sentences {
    const char *text, *see, *why;
} sentences[] = {
    [TELL_LEVELS_QUIET] =
        {"pull down faders, master and monitors; have the amplifiers muted",
         "silence; leads, plugs and sockets$e are whole",
         "whoever answers for the amplifiers mutes them; sources go on first, then the mixer, "
         "amplifiers last, so that nothing thumps; " SAFETY PRACTICE},
    [TELL_LEVELS_LIVE] =
        {"pull down only faders of free strips; hands off $u",
         "the room hears no difference; our leads, plugs and sockets$e are whole",
         "while somebody plays, master, booth monitors, amplifiers and mains stay as they "
         "are; " SAFETY PRACTICE},
    [TELL_LAPTOP] =
        {"put the laptop on its supply; sleep and port power saving off",
         "it charges; system sounds go to its own output, other sound programs are shut",
         "a laptop that sleeps or saves power at its ports drops devices in the middle of the "
         "night" PRACTICE},
    [TELL_POWER] = {"switch $d on before any data lead goes in", "$d has started and is ready",
                    "a device that starts with its data lead in can join out of turn" PRACTICE},
    [TELL_POWER_BY_LEAD] = {"set $d to take its power from the data lead, if it has a switch",
                            "nothing yet: $d starts when its data lead goes in", NULL},
    [TELL_FIRMWARE] =
        {"read the firmware off $d: at least $f is needed", "$f or newer$g",
         "an older one is a warning to accept, or a reason for another way in; updating is for the "
         "house to decide, and never in a live room" PRACTICE},
    [TELL_DRIVER] =
        {"start the maker's driver before any device is plugged in",
         "its panel opens; in the end it lists $m, in this order",
         "it combines the cards of one family, sometimes by port or serial number" PRACTICE},
    [TELL_COMBINATION_SAVED] = {"open the saved combination$w", "exactly $m, in this order",
                                COMBINED PRACTICE},
    [TELL_COMBINATION_NEW] =
        {"make a new combination in the host", "an empty one; it will hold $m, in this order",
         "no saved one has just these models in this order; " COMBINED PRACTICE},
    [TELL_HUB] = {"plug $h into $p", "$h has power, and no channels appear", NULL},
    [TELL_HUB_SUPPLY] =
        {"give $h its own supply, then plug it into $p", "$h has power, and no channels appear",
         "without its supply all its ports share what one port gives (USB 2.0, 7.2.1)"},
    [TELL_JOIN] = {"plug $d into $p and wait", "the interface shows $n", COUNT PRACTICE},
    [TELL_JOIN_TICK] = {"plug $d into $p, wait until the host lists it, and tick it",
                        "the interface shows $n", COUNT PRACTICE},
    [TELL_JOIN_BUILT_IN] = {"take $d, which is built in, into the interface",
                            "the interface shows $n", COUNT PRACTICE},
    [TELL_PLUG] = {"plug $d into $p", "the interface still shows $n",
                   "it only controls: if the count changes, another device has joined" PRACTICE},
    [TELL_PLUG_ALONE] = {"plug $d into $p", "the host lists $d among its controllers", NULL},
    [TELL_INTERFACE] = {"choose $q, nothing else, and set $t", "read back: $n, $t$c",
                        "old deck channels may come back with it; a later change of rate can drop "
                        "devices" PRACTICE},
    [TELL_SOURCE] = {"switch $d to the computer", "$d shows the computer as its source",
                     "on its own media it sends nothing of the host's" PRACTICE},
    [TELL_SOURCE_WAIT] = {"wait with switching $d to the computer: $s hears it and is in use by $v",
                          "$s goes on as before", NULL},
    [TELL_SELECTOR] = {"turn $s's selector to $i", "$s shows $i as its input",
                       "a strip passes only its selected input" PRACTICE},
    [TELL_SWITCH] = {"turn the switch of $s's $i input to $l", "the switch stands on $l",
                     "line into phono is far too loud, phono into line far too quiet" PRACTICE},
    [TELL_SET] = {"set $k to pair $r", "the host shows $r for $k", "this pair comes out on $s"},
    [TELL_CONTROL] = {"let $d control $k", "moving $d moves $k and no other deck", NULL},
    [TELL_CONTROL_RECORD] = {"put a control record on $d for $k",
                             "moving the record moves $k and no other deck", NULL},
    [TELL_CHECK_QUIET] = {"play $k alone and raise $s slowly",
                          "$k is heard on $s alone; in the headphones $z", EARS PRACTICE},
    [TELL_CHECK_LIVE] = {"play $k alone, $s's fader down: meter and headphone cue only",
                         "only the meter of $s moves; in the headphones $z", EARS PRACTICE},
    [TELL_CHECK_WAIT] = {"wait with playing $k: $s hears it and is in use by $v",
                         "$k stands still until then", NULL},
    [TELL_CHECK_WAIT_DEVICE] = {"wait with playing $k: it plays through $d, in use by $x",
                                "$k stands still until then", NULL},
    [TELL_SAVE] = {"save the venue", "nothing is left unsaved",
                   "the next visit starts from what is saved"},
};

/* --- what the letters stand for -----------------------------------------------------------------
 */

static void add_user(const char *name, const char *by, int *n, struct str *out)
{
    str_addf(out, "%s%s (%s)", (*n)++ ? ", " : "", name, by);
}

/* "strip 2 (Robin), P4 (the DJ before)" */
static void say_users(const struct booth *b, struct str *out)
{
    int n = 0;
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        if (d->in_use)
            add_user(d->label, d->in_use, &n, out);
        for (size_t k = 0; k < d->strips.n; k++) {
            struct str name = {0};
            say_thing(b, d->strips.v[k].id, &name);
            if (d->strips.v[k].in_use)
                add_user(str_text(&name), d->strips.v[k].in_use, &n, out);
            str_clear(&name);
        }
    }
}

/* "P1 (dunlin 2), P2": the joined, in their order. */
static void say_models(const struct booth *b, struct str *out)
{
    for (size_t i = 0; i < b->joined.n; i++) {
        const struct device *d = booth_device(b, b->joined.v[i]);
        str_addf(out, "%s%s", i ? ", " : "", d->label);
        if (d->model)
            str_addf(out, " (%s)", d->model);
    }
}

static void say_turntables(const struct booth *b, struct str *out)
{
    for (size_t i = 0; i < b->devices.n; i++)
        if (b->devices.v[i].kind == KIND_TURNTABLE) {
            str_add(out, ", and turntables' earth leads,");
            return;
        }
}

static void say_where(const struct booth *b, const struct about *a, struct str *out)
{
    const struct plug *p = a->hub ? &a->hub->plugged : &a->device->plugged;
    if (!*p->at)
        str_add(out, "a free port (note which)");
    else
        say_plug(b, p, out);
    if (a->device && a->device->socket)
        str_addf(out, ", from its socket %s", a->device->socket);
}

/* Some cards appear only after their player was switched; one that is heard elsewhere never is. */
static void say_no_growth(const struct about *a, struct str *out)
{
    if (a->device->kind == KIND_PLAYER && !a->strip)
        str_add(out, "; no growth: switch it to the computer and count again");
}

static void say_text(const struct booth *b, const struct about *a, char what, struct str *out)
{
    switch (what) {
    case 'c':
        str_add(out, b->host.drift_correction && b->joined.n > 1 ? ", drift correction on" : "");
        break;
    case 'e':
        say_turntables(b, out);
        break;
    case 'g':
        if (a->device->firmware)
            str_addf(out, "; last time it was %s", a->device->firmware);
        break;
    case 'm':
        say_models(b, out);
        break;
    case 'p':
        say_where(b, a, out);
        break;
    case 'q':
        str_add(out, a->device ? a->device->label : "the combined interface");
        break;
    case 't':
        say_rate(b->host.rate_hz, out);
        str_addf(out, " and %d frames", b->host.buffer_frames);
        break;
    case 'u':
        say_users(b, out);
        break;
    case 'w':
        if (a->combination->name)
            str_addf(out, " \"%s\"", a->combination->name);
        break;
    case 'y':
        say_no_growth(a, out);
        break;
    default:
        assert(false && "a sentence has a letter that nothing fills");
    }
}

/* The letters that stand for one thing that the step is about; the others in say_text(). */
static void fill_in(const struct circuit *c, const struct about *a, char what, struct str *out)
{
    switch (what) {
    case 'd':
        str_add(out, a->device->label);
        break;
    case 'f':
        str_add(out, a->device->firmware_min);
        break;
    case 'h':
        say_thing(c->booth, a->hub->id, out);
        break;
    case 'i':
        str_add(out, a->input->id);
        break;
    case 'k':
        str_add(out, a->decks);
        break;
    case 'l':
        str_add(out, word_people(&words_level, (int)a->level));
        break;
    case 'n':
        str_addf(out, a->channels == 1 ? "%d channel" : "%d channels", a->channels);
        break;
    case 'r':
        route_show(c, a->pair, out);
        break;
    case 's':
        say_thing(c->booth, a->strip->id, out);
        break;
    case 'v':
        str_add(out, a->strip->in_use);
        break;
    case 'x':
        str_add(out, a->device->in_use);
        break;
    case 'z':
        str_add(out, a->pair.left != a->pair.right ? "left is left and right is right"
                                                   : "both sides arrive on the left");
        break;
    default:
        say_text(c->booth, a, what, out);
    }
}

static char *tell(const struct circuit *c, const char *sentence, const struct about *a)
{
    struct str out = {0};
    if (!sentence)
        return NULL;
    for (const char *t = sentence; *t; t++) {
        if (*t == '$')
            fill_in(c, a, *++t, &out);
        else
            str_addc(&out, *t);
    }
    return str_take(&out);
}

void order_tell(const struct circuit *c, enum telling what, const struct about *about,
                struct step *step)
{
    const struct sentences *s = &sentences[what];
    step->text = tell(c, s->text, about);
    step->see = tell(c, s->see, about);
    step->why = tell(c, s->why, about);
}
