/* Names in sentences. Whoever makes a sentence about the booth builds it from these. */
#include "model/say.h"

#include <string.h>

/* Whether another mixer than this one has a strip with that label. */
static bool label_is_twice(const struct booth *b, const struct device *mixer, const char *label)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        for (size_t k = 0; k < d->strips.n && d != mixer; k++)
            if (strcmp(d->strips.v[k].label, label) == 0)
                return true;
    }
    return false;
}

void say_thing(const struct booth *b, const char *id, struct str *out)
{
    const struct device *mixer = NULL;
    const struct strip *s = booth_strip(b, id, &mixer);
    if (strcmp(id, "host") == 0)
        str_add(out, "the laptop");
    else if (!s)
        str_add(out, booth_label(b, id));
    else if (label_is_twice(b, mixer, s->label))
        str_addf(out, "strip %s of %s", s->label, mixer->label);
    else
        str_addf(out, "strip %s", s->label);
}

void say_labels(const struct booth *b, const struct texts *ids, struct str *out)
{
    for (size_t i = 0; i < ids->n; i++)
        str_addf(out, "%s%s", i ? ", " : "", booth_label(b, ids->v[i]));
}

void say_jack(const struct booth *b, const char *name, struct str *out)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    if (!ref_split(name, owner, jack)) {
        str_add(out, name);
        return;
    }
    bool output = booth_output(b, name, NULL), input = booth_input(b, name, NULL);
    say_thing(b, owner, out);
    str_addf(out, "'s %s%s", jack, output ? " output" : input ? " input" : "");
}

void say_name(const struct booth *b, const char *name, struct str *out)
{
    if (strchr(name, '.'))
        say_jack(b, name, out);
    else
        say_thing(b, name, out);
}

void say_plug(const struct booth *b, const struct plug *p, struct str *out)
{
    if (!*p->at) {
        str_add(out, "no port");
    } else if (p->port == 0) {
        str_add(out, "the laptop's inside");
    } else {
        str_addf(out, "port %d of ", p->port);
        say_thing(b, p->at, out);
    }
}

/* One channel by its device: "P2 L" of a card of two channels, "M1 3" of a larger one. With the
 * same device as before, the label is left out. */
static void say_channel(const struct card_channel *c, const struct device *before, struct str *out)
{
    if (!c->device) {
        str_addc(out, '?');
        return;
    }
    if (c->device != before)
        str_addf(out, "%s ", c->device->label);
    if (c->device->card->out_channels <= 2)
        str_addc(out, c->number == 1 ? 'L' : 'R');
    else
        str_addf(out, "%d", c->number);
}

void say_pair_of(enum channel_names names, struct pair p, const struct card_channel of[2],
                 struct str *out)
{
    if (p.left < 0) {
        str_addc(out, '-');
    } else if (names != NAMES_BY_DEVICE) {
        int shift = names == NAMES_FROM_1 ? 1 : 0;
        str_addf(out, "%d/%d", p.left + shift, p.right + shift);
    } else {
        say_channel(&of[0], NULL, out);
        if (p.left == p.right)
            return;
        str_addc(out, '/');
        say_channel(&of[1], of[0].device, out);
    }
}

static struct card_channel owner_of(const struct booth *b, int channel)
{
    for (size_t i = 0; i < b->joined.n; i++) {
        const struct device *d = booth_device(b, b->joined.v[i]);
        int channels = d && d->card ? d->card->out_channels : 0;
        if (channel < channels)
            return (struct card_channel){d, channel + 1};
        channel -= channels;
    }
    return (struct card_channel){NULL, 0};
}

void say_pair(const struct booth *b, struct pair p, struct str *out)
{
    struct card_channel of[2] = {{NULL, 0}, {NULL, 0}};
    if (b->host.channel_names == NAMES_BY_DEVICE) {
        of[0] = owner_of(b, p.left);
        of[1] = owner_of(b, p.right);
    }
    say_pair_of(b->host.channel_names, p, of, out);
}

void say_step(const struct booth *b, const char *id, struct str *out)
{
    const char *dash = strchr(id, '-'), *name = dash ? dash + 1 : "";
    if (booth_label(b, name) != name) {
        str_addn(out, id, (size_t)(dash - id));
        str_addc(out, ' ');
        say_thing(b, name, out);
        return;
    }
    for (const char *c = id; *c; c++)
        str_addc(out, *c == '-' ? ' ' : *c);
}

void say_rate(int rate_hz, struct str *out)
{
    int part = rate_hz % 1000;
    str_addf(out, "%d", rate_hz / 1000);
    if (part) {
        char digits[4] = {(char)('0' + part / 100), (char)('0' + part / 10 % 10),
                          (char)('0' + part % 10), '\0'};
        for (size_t n = 2; n > 0 && digits[n] == '0'; n--)
            digits[n] = '\0';
        str_addf(out, ".%s", digits);
    }
    str_add(out, " kHz");
}

void say_minutes(int milli, struct str *out)
{
    str_addf(out, "%d.%02d", milli / 1000, milli % 1000 / 10);
    if (milli % 10)
        str_addf(out, "%d", milli % 10);
}

static void show_list(const struct field *f, const struct ints *l, struct str *out)
{
    for (size_t i = 0; i < l->n; i++) {
        if (i)
            str_addc(out, ' ');
        if (f->kind == FIELD_WORDS)
            str_add(out, word_people(f->words, l->v[i]));
        else
            str_addf(out, "%d", l->v[i]);
    }
}

static void show_milli(int milli, struct str *out)
{
    if (milli < 0)
        return;
    str_addf(out, "%d.%03d", milli / 1000, milli % 1000);
    while (out->text[out->len - 1] == '0')
        str_cut(out, out->len - 1);
    if (out->text[out->len - 1] == '.')
        str_cut(out, out->len - 1);
}

void say_value(const struct field *f, const void *value, int from, struct str *out)
{
    const struct plug *plug = value;
    const struct pair *pair = value;
    const struct texts *texts = value;
    switch (f->kind) {
    case FIELD_TEXT:
        str_add(out, *(char *const *)value ? *(char *const *)value : "");
        break;
    case FIELD_ID:
    case FIELD_REF:
        str_add(out, value);
        break;
    case FIELD_WORD:
        str_add(out, word_people(f->words, *(const int *)value));
        break;
    case FIELD_INT:
        str_addf(out, "%d", *(const int *)value);
        break;
    case FIELD_BOOL:
        str_add(out, *(const bool *)value ? "yes" : "no");
        break;
    case FIELD_MILLI:
        show_milli(*(const int *)value, out);
        break;
    case FIELD_PAIR:
        if (pair->left >= 0)
            str_addf(out, "%d/%d", pair->left + from, pair->right + from);
        break;
    case FIELD_INTS:
    case FIELD_WORDS:
        show_list(f, value, out);
        break;
    case FIELD_PLUG:
        str_add(out, plug->at);
        if (plug->port)
            str_addf(out, ".%d", plug->port);
        break;
    case FIELD_TEXTS:
    case FIELD_REFS:
        for (size_t i = 0; i < texts->n; i++)
            str_addf(out, "%s%s", i ? ", " : "", texts->v[i]);
        break;
    default:
        break;
    }
}
