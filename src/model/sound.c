/* The rules of a sound booth, in three passes: every value by itself (walking the shapes), every
 * name (unique, and of something), every reference and what only several records can break. */
#include "model/sound.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#include "base/utf8.h"
#include "model/shape.h"

static bool wrong(struct err *e, const char *place, const char *says)
{
    return err_set(e, ERR_READ, place, "%s", says);
}

/* Adds "list[i]" in front of a place that was found inside an item. */
static bool inside(struct err *e, const char *list, size_t i)
{
    char item[64];
    snprintf(item, sizeof item, "%s[%zu]", list, i);
    err_within(e, item);
    return false;
}

/* --- values by themselves --------------------------------------------------------------------- */

static bool in_range(const struct field *f, int value, struct err *e)
{
    if (value >= f->low && value <= f->high)
        return true;
    return err_set(e, ERR_READ, f->key, "%d is out of range; expected %d to %d", value, f->low,
                   f->high);
}

static bool text_fits(const struct field *f, const char *text, struct err *e)
{
    if (f->required && (!text || !*text))
        return wrong(e, f->key, "is empty; expected a text");
    if (text && f->high && strlen(text) > (size_t)f->high)
        return err_set(e, ERR_READ, f->key, "is %zu bytes long; expected at most %d", strlen(text),
                       f->high);
    return true;
}

static bool value_fits(const struct field *f, const void *value, struct err *e)
{
    switch (f->kind) {
    case FIELD_TEXT:
        return text_fits(f, *(char *const *)value, e);
    case FIELD_ID:
        if (id_valid(value))
            return true;
        return err_set(e, ERR_READ, f->key,
                       "\"%s\" is not an id; expected 1 to 32 of a-z, 0-9 and -",
                       (const char *)value);
    case FIELD_REF:
        return text_fits(&(struct field){.key = f->key, .required = f->required}, value, e);
    case FIELD_WORD:
        if (!f->required || word_file(f->words, *(const int *)value))
            return true;
        return err_set(e, ERR_READ, f->key, "is missing; expected %s", f->words->what);
    case FIELD_INT:
        return in_range(f, *(const int *)value, e);
    case FIELD_MILLI:
        if (*(const int *)value >= -1 && *(const int *)value <= f->high)
            return true;
        return err_set(e, ERR_READ, f->key, "is out of range; expected 0 to %d minutes",
                       f->high / 1000);
    case FIELD_PAIR: {
        const struct pair *p = value;
        return (p->left == -1 && p->right == -1) ||
               (in_range(f, p->left, e) && in_range(f, p->right, e));
    }
    case FIELD_INTS:
        for (size_t i = 0; i < ((const struct ints *)value)->n; i++)
            if (!in_range(f, ((const struct ints *)value)->v[i], e))
                return false;
        return true;
    default:
        return true;
    }
}

static bool values_fit(const struct shape *s, const void *record, struct err *e);

static bool items_fit(const struct field *f, const void *list, struct err *e)
{
    for (size_t i = 0; i < records_count(list); i++)
        if (!values_fit(f->shape, records_at(f, list, i), e))
            return inside(e, f->key, i);
    return true;
}

static bool values_fit(const struct shape *s, const void *record, struct err *e)
{
    for (size_t i = 0; i < s->n; i++) {
        const struct field *f = &s->fields[i];
        const void *value = field_of(f, record);
        const void *inner = value;
        if (f->kind == FIELD_OPTION)
            memcpy(&inner, value, sizeof inner);
        if (f->kind == FIELD_RECORDS) {
            if (!items_fit(f, value, e))
                return false;
        } else if (f->kind == FIELD_RECORD || f->kind == FIELD_OPTION) {
            if (inner && !values_fit(f->shape, inner, e)) {
                err_within(e, f->key);
                return false;
            }
        } else if (!value_fits(f, value, e)) {
            return false;
        }
    }
    return true;
}

/* --- jacks ------------------------------------------------------------------------------------ */

/* At most two channels, none twice. */
static bool channels_differ(const struct ints *c, struct err *e)
{
    if (c->n > 2)
        return err_set(e, ERR_READ, "channels", "has %zu channels; expected one or two", c->n);
    if (c->n == 2 && c->v[0] == c->v[1])
        return err_set(e, ERR_READ, "channels", "%d stands there twice; expected two channels",
                       c->v[0]);
    return true;
}

/* One or two channels, none beyond the card (0: no card, then 1 and 2 are sides). */
static bool channels_fit(const struct ints *c, int card, struct err *e)
{
    int most = card ? card : 2;
    if (c->n == 0)
        return wrong(e, "channels", "is missing; expected one or two channels of the card");
    for (size_t i = 0; i < c->n; i++)
        if (c->v[i] > most)
            return err_set(e, ERR_READ, "channels", "%d is beyond the card; expected 1 to %d",
                           c->v[i], most);
    return channels_differ(c, e);
}

static bool switch_fits(const struct input *in, struct err *e)
{
    bool among = in->levels.n == 0;
    for (size_t i = 0; i < in->levels.n; i++) {
        int level = in->levels.v[i];
        if (level != LEVEL_LINE && level != LEVEL_PHONO)
            return err_set(e, ERR_READ, "levels",
                           "a switch cannot stand on %s; expected line and "
                           "phono",
                           word_people(&words_level, level));
        for (size_t k = 0; k < i; k++)
            if (in->levels.v[k] == level)
                return wrong(e, "levels", "names a level twice; expected line and phono");
        among = among || level == (int)in->level;
    }
    if (!among)
        return err_set(e, ERR_READ, "level", "%s is not among its levels",
                       word_people(&words_level, (int)in->level));
    return true;
}

static bool input_fits(const struct device *d, const struct strip *s, const struct input *in,
                       struct err *e)
{
    if (in->level != LEVEL_USB)
        return channels_differ(&in->channels, e) && switch_fits(in, e);
    if (!s)
        return wrong(e, "level",
                     "a usb input stands only in a strip; expected line, phono or digital");
    if (!d->card)
        return wrong(e, "level",
                     "a usb input needs a card in its mixer; expected line, phono or "
                     "digital");
    return channels_fit(&in->channels, d->card->out_channels, e) && switch_fits(in, e);
}

static bool inputs_fit(const struct device *d, const struct strip *s, struct err *e)
{
    const struct inputs *inputs = s ? &s->inputs : &d->inputs;
    for (size_t i = 0; i < inputs->n; i++) {
        for (size_t k = 0; k < i; k++)
            if (strcmp(inputs->v[k].id, inputs->v[i].id) == 0) {
                err_set(e, ERR_READ, "id", "\"%s\" is there twice; expected one input of that id",
                        inputs->v[i].id);
                return inside(e, "inputs", i);
            }
        if (!input_fits(d, s, &inputs->v[i], e))
            return inside(e, "inputs", i);
    }
    return true;
}

static bool outputs_fit(const struct device *d, struct err *e)
{
    for (size_t i = 0; i < d->outputs.n; i++) {
        const struct output *out = &d->outputs.v[i];
        bool fits = out->level != LEVEL_USB ||
                    wrong(e, "level", "an output cannot be usb; expected line, phono or digital");
        for (size_t k = 0; k < i && fits; k++)
            if (strcmp(d->outputs.v[k].id, out->id) == 0)
                fits = err_set(e, ERR_READ, "id",
                               "\"%s\" is there twice; expected one output of that id", out->id);
        if (!fits || !channels_fit(&out->channels, d->card ? d->card->out_channels : 0, e))
            return inside(e, "outputs", i);
    }
    return true;
}

static bool strip_fits(const struct device *d, const struct strip *s, struct err *e)
{
    if (!inputs_fit(d, s, e))
        return false;
    if (!strip_selected(s))
        return err_set(e, ERR_READ, "selected", "\"%s\" is not an input of this strip",
                       s->selected);
    return true;
}

/* --- devices ---------------------------------------------------------------------------------- */

static bool dotted_digits(const char *text)
{
    bool digit = false;
    for (; *text; text++) {
        if (isdigit((unsigned char)*text))
            digit = true;
        else if (*text == '.' && digit)
            digit = false;
        else
            return false;
    }
    return digit;
}

static bool firmware_fits(const char *text, const char *key, struct err *e)
{
    return !text || dotted_digits(text) ||
           err_set(e, ERR_READ, key, "\"%.*s\" is not dotted digits; expected like 1.10",
                   (int)utf8_cut(text, 60), text);
}

static bool plug_fits(const struct booth *b, const struct plug *p, bool hub, struct err *e)
{
    if (!*p->at)
        return true;
    if (!hub && strcmp(p->at, "built-in") == 0 && p->port == 0)
        return true;
    if (strcmp(p->at, "host") != 0 && !booth_hub(b, p->at))
        return err_set(e, ERR_READ, "plugged",
                       "there is no hub \"%s\"; expected host.N%s or a "
                       "hub's id.N",
                       p->at, hub ? "" : ", built-in");
    if (p->port < 1)
        return err_set(e, ERR_READ, "plugged", "port %d is below 1", p->port);
    return true;
}

static bool parts_fit(const struct device *d, struct err *e)
{
    if (d->kind == KIND_MIXER && d->outputs.n)
        return wrong(e, "outputs", "a mixer has no outputs here; expected none");
    if (d->kind != KIND_MIXER && d->strips.n)
        return wrong(e, "strips", "only a mixer has strips; expected none");
    if (d->kind != KIND_INTERFACE && d->inputs.n)
        return wrong(e, "inputs", "only an interface has inputs of its own; expected none");
    return true;
}

static bool device_fits(const struct booth *b, const struct device *d, struct err *e)
{
    if (!parts_fit(d, e) || !firmware_fits(d->firmware, "firmware", e) ||
        !firmware_fits(d->firmware_min, "firmware_min", e) ||
        !plug_fits(b, &d->plugged, false, e) || !outputs_fit(d, e) || !inputs_fit(d, NULL, e))
        return false;
    for (size_t i = 0; i < d->strips.n; i++)
        if (!strip_fits(d, &d->strips.v[i], e))
            return inside(e, "strips", i);
    return true;
}

/* Whether following plugs from a hub ends at the host or nowhere. */
static bool hub_leads_out(const struct booth *b, const struct hub *h)
{
    for (size_t steps = 0; h && steps <= b->hubs.n; steps++)
        h = booth_hub(b, h->plugged.at);
    return h == NULL;
}

static bool things_fit(const struct booth *b, struct err *e)
{
    for (size_t i = 0; i < b->devices.n; i++)
        if (!device_fits(b, &b->devices.v[i], e))
            return inside(e, "devices", i);
    for (size_t i = 0; i < b->hubs.n; i++) {
        const struct hub *h = &b->hubs.v[i];
        if (!plug_fits(b, &h->plugged, true, e))
            return inside(e, "hubs", i);
        if (!hub_leads_out(b, h)) {
            wrong(e, "plugged", "its hubs are plugged in a ring; expected a way to the host");
            return inside(e, "hubs", i);
        }
    }
    return true;
}

/* --- names ------------------------------------------------------------------------------------ */

/* How many things have this id: devices, hubs, strips and decks share one space of names. */
static int count_id(const struct booth *b, const char *id)
{
    int n = strcmp(id, "host") == 0 ? 1 : 0;
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        n += strcmp(d->id, id) == 0;
        for (size_t k = 0; k < d->strips.n; k++)
            n += strcmp(d->strips.v[k].id, id) == 0;
    }
    for (size_t i = 0; i < b->hubs.n; i++)
        n += strcmp(b->hubs.v[i].id, id) == 0;
    for (size_t i = 0; i < b->decks.n; i++)
        n += strcmp(b->decks.v[i].id, id) == 0;
    return n;
}

static bool name_is_free(const struct booth *b, const char *id, struct err *e)
{
    if (count_id(b, id) == 1)
        return true;
    if (strcmp(id, "host") == 0)
        return wrong(e, "id", "\"host\" is the laptop's own name; expected another id");
    return err_set(e, ERR_READ, "id", "\"%s\" is there twice; expected an id of its own", id);
}

static bool names_fit(const struct booth *b, struct err *e)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        if (!name_is_free(b, d->id, e))
            return inside(e, "devices", i);
        for (size_t k = 0; k < d->strips.n; k++)
            if (!name_is_free(b, d->strips.v[k].id, e)) {
                inside(e, "strips", k);
                return inside(e, "devices", i);
            }
    }
    for (size_t i = 0; i < b->hubs.n; i++)
        if (!name_is_free(b, b->hubs.v[i].id, e))
            return inside(e, "hubs", i);
    for (size_t i = 0; i < b->decks.n; i++)
        if (!name_is_free(b, b->decks.v[i].id, e))
            return inside(e, "decks", i);
    return true;
}

/* --- references ------------------------------------------------------------------------------- */

static bool cable_fits(const struct booth *b, size_t at, struct err *e)
{
    const struct cable *c = &b->cables.v[at];
    struct in_end in;
    if (!booth_output(b, c->from, NULL))
        return err_set(e, ERR_READ, "from", "\"%s\" is not an output; expected like p1.line",
                       c->from);
    if (!booth_input(b, c->to, &in))
        return err_set(e, ERR_READ, "to", "\"%s\" is not an input; expected like s1.line", c->to);
    if (in.input->level == LEVEL_USB)
        return err_set(e, ERR_READ, "to", "\"%s\" is a usb input; no cable ends there", c->to);
    if (booth_cable(b, c->from, c->to) != c)
        return wrong(e, "to", "the same cable is there twice; expected it once");
    return true;
}

static bool deck_fits(const struct booth *b, const struct deck *d, struct err *e)
{
    if (*d->wants && !booth_strip(b, d->wants, NULL))
        return err_set(e, ERR_READ, "wants", "there is no strip \"%s\"", d->wants);
    const struct device *by = booth_device(b, d->controlled_by);
    bool controls = by && (by->kind == KIND_PLAYER || by->kind == KIND_CONTROLLER ||
                           by->kind == KIND_TURNTABLE);
    if (*d->controlled_by && !controls)
        return err_set(e, ERR_READ, "controlled_by",
                       "\"%s\" is not a player, controller or turntable", d->controlled_by);
    return true;
}

static bool joined_fits(const struct booth *b, size_t at, struct err *e)
{
    const char *id = b->joined.v[at];
    const struct device *d = booth_device(b, id);
    if (!d)
        return err_set(e, ERR_READ, "", "there is no device \"%s\"", id);
    if (!d->card)
        return err_set(e, ERR_READ, "", "\"%s\" has no card to join", id);
    if (booth_joined_at(b, id) != (int)at)
        return err_set(e, ERR_READ, "", "\"%s\" is joined twice", id);
    return true;
}

/* Names in what was found may be gone; data leads must still read as such. */
static bool found_fits(const struct found *f, struct err *e)
{
    for (size_t i = 0; f && i < f->plugged.n; i++) {
        const struct entry *lead = &f->plugged.v[i];
        struct plug plug;
        if (!lead->value ||
            (plug_read(lead->value, &plug) && (plug.port > 0 || strcmp(plug.at, "built-in") == 0)))
            continue;
        return err_set(e, ERR_READ, "found.plugged",
                       "\"%.*s\" is nowhere to plug into; expected host.N, a hub's id.N, built-in "
                       "or null",
                       (int)utf8_cut(lead->value, 60), lead->value);
    }
    return true;
}

static bool references_fit(const struct booth *b, struct err *e)
{
    for (size_t i = 0; i < b->cables.n; i++)
        if (!cable_fits(b, i, e))
            return inside(e, "cables", i);
    for (size_t i = 0; i < b->joined.n; i++)
        if (!joined_fits(b, i, e))
            return inside(e, "joined", i);
    for (size_t i = 0; i < b->decks.n; i++)
        if (!deck_fits(b, &b->decks.v[i], e))
            return inside(e, "decks", i);
    return found_fits(b->found, e);
}

/* --- limits ----------------------------------------------------------------------------------- */

static bool at_most(size_t n, size_t most, const char *list, const char *what, struct err *e)
{
    return n <= most ||
           err_set(e, ERR_READ, list, "%zu %s are too many; expected at most %zu", n, what, most);
}

static bool limits_fit(const struct booth *b, struct err *e)
{
    size_t players = 0, strips = 0;
    for (size_t i = 0; i < b->devices.n; i++) {
        players += b->devices.v[i].kind == KIND_PLAYER;
        strips += b->devices.v[i].strips.n;
    }
    return at_most(b->devices.n, MAX_DEVICES, "devices", "devices", e) &&
           at_most(players, MAX_PLAYERS, "devices", "players", e) &&
           at_most(strips, MAX_STRIPS, "devices", "strips", e) &&
           at_most(b->hubs.n, MAX_HUBS, "hubs", "hubs", e) &&
           at_most(b->cables.n, MAX_CABLES, "cables", "cables", e) &&
           at_most(b->decks.n, MAX_DECKS, "decks", "decks", e);
}

bool booth_sound(const struct booth *b, struct err *e)
{
    return limits_fit(b, e) && values_fit(&shape_booth, b, e) && names_fit(b, e) &&
           things_fit(b, e) && references_fit(b, e);
}
