/* Life and look-up of booths. Booths are small (at most 128 devices): every search is a walk. */
#include "model/booth.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "model/shape.h"

struct booth *booth_new(const char *name)
{
    struct booth *b = mem_new(1, sizeof *b);
    record_init(&shape_booth, b);
    text_set(&b->venue.name, name);
    return b;
}

struct booth *booth_copy(const struct booth *b)
{
    struct booth *copy = mem_new(1, sizeof *copy);
    record_copy(&shape_booth, copy, b);
    return copy;
}

void booth_free(struct booth *b)
{
    if (!b)
        return;
    record_clear(&shape_booth, b);
    mem_free(b);
}

bool booth_equal(const struct booth *a, const struct booth *b)
{
    return record_equal(&shape_booth, a, b);
}

const struct device *booth_device(const struct booth *b, const char *id)
{
    for (size_t i = 0; i < b->devices.n; i++)
        if (strcmp(b->devices.v[i].id, id) == 0)
            return &b->devices.v[i];
    return NULL;
}

const struct hub *booth_hub(const struct booth *b, const char *id)
{
    for (size_t i = 0; i < b->hubs.n; i++)
        if (strcmp(b->hubs.v[i].id, id) == 0)
            return &b->hubs.v[i];
    return NULL;
}

const struct deck *booth_deck(const struct booth *b, const char *id)
{
    for (size_t i = 0; i < b->decks.n; i++)
        if (strcmp(b->decks.v[i].id, id) == 0)
            return &b->decks.v[i];
    return NULL;
}

const struct strip *booth_strip(const struct booth *b, const char *id, const struct device **mixer)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        for (size_t k = 0; k < d->strips.n; k++) {
            if (strcmp(d->strips.v[k].id, id) != 0)
                continue;
            if (mixer)
                *mixer = d;
            return &d->strips.v[k];
        }
    }
    return NULL;
}

bool id_valid(const char *text)
{
    size_t n = strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789-");
    return n > 0 && n < ID_SIZE && text[n] == '\0';
}

bool ref_split(const char *name, char owner[ID_SIZE], char jack[ID_SIZE])
{
    const char *dot = strchr(name, '.');
    if (!dot || dot == name || dot - name >= ID_SIZE || strlen(dot + 1) >= ID_SIZE || !dot[1])
        return false;
    memcpy(owner, name, (size_t)(dot - name));
    owner[dot - name] = '\0';
    strcpy(jack, dot + 1);
    return true;
}

bool plug_read(const char *text, struct plug *p)
{
    char owner[ID_SIZE], port[ID_SIZE];
    if (strcmp(text, "built-in") == 0) {
        *p = (struct plug){"built-in", 0};
        return true;
    }
    if (!ref_split(text, owner, port) || !id_valid(owner) || strlen(port) > 9 ||
        port[strspn(port, "0123456789")])
        return false;
    *p = (struct plug){.port = atoi(port)};
    strcpy(p->at, owner);
    return true;
}

void plug_text(const struct plug *p, char text[REF_SIZE])
{
    if (p->port)
        snprintf(text, REF_SIZE, "%s.%d", p->at, p->port);
    else
        snprintf(text, REF_SIZE, "%s", p->at);
}

bool booth_output(const struct booth *b, const char *name, struct out_end *end)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    if (!ref_split(name, owner, jack))
        return false;
    const struct device *d = booth_device(b, owner);
    for (size_t i = 0; d && i < d->outputs.n; i++) {
        if (strcmp(d->outputs.v[i].id, jack) != 0)
            continue;
        if (end)
            *end = (struct out_end){d, &d->outputs.v[i]};
        return true;
    }
    return false;
}

static const struct input *find_input(const struct inputs *inputs, const char *id)
{
    for (size_t i = 0; i < inputs->n; i++)
        if (strcmp(inputs->v[i].id, id) == 0)
            return &inputs->v[i];
    return NULL;
}

bool booth_input(const struct booth *b, const char *name, struct in_end *end)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    if (!ref_split(name, owner, jack))
        return false;
    struct in_end found = {0};
    found.strip = booth_strip(b, owner, &found.device);
    if (!found.strip)
        found.device = booth_device(b, owner);
    if (!found.device)
        return false;
    found.input = find_input(found.strip ? &found.strip->inputs : &found.device->inputs, jack);
    if (found.input && end)
        *end = found;
    return found.input != NULL;
}

const struct cable *booth_cable(const struct booth *b, const char *from, const char *to)
{
    for (size_t i = 0; i < b->cables.n; i++)
        if (strcmp(b->cables.v[i].from, from) == 0 && strcmp(b->cables.v[i].to, to) == 0)
            return &b->cables.v[i];
    return NULL;
}

const struct device *booth_used_on(const struct booth *b, const char *hub)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        const char *at = d->plugged.at;
        for (size_t steps = 0; d->in_use && *at && steps <= b->hubs.n; steps++) {
            if (strcmp(at, hub) == 0)
                return d;
            const struct hub *above = booth_hub(b, at);
            at = above ? above->plugged.at : "";
        }
    }
    return NULL;
}

int booth_joined_at(const struct booth *b, const char *device)
{
    return texts_find(&b->joined, device);
}

bool combination_fits(const struct combination *c, const struct booth *b)
{
    bool same = c->models.n == b->joined.n;
    for (size_t i = 0; same && i < b->joined.n; i++) {
        const char *model = booth_device(b, b->joined.v[i])->model;
        same = model && strcmp(c->models.v[i], model) == 0;
    }
    return same;
}

const struct combination *booth_combination(const struct booth *b)
{
    for (size_t i = 0; i < b->host.combinations.n; i++)
        if (combination_fits(&b->host.combinations.v[i], b))
            return &b->host.combinations.v[i];
    return NULL;
}

const struct input *strip_input(const struct strip *s, const char *id)
{
    return find_input(&s->inputs, id);
}

const struct input *strip_selected(const struct strip *s)
{
    return find_input(&s->inputs, s->selected);
}

bool input_is_ours(const struct device *mixer, const struct input *in)
{
    const char *ours = mixer->socket ? mixer->socket : "";
    return strcmp(ours, in->socket ? in->socket : "") == 0;
}

bool card_runs_at(const struct card *c, int rate_hz)
{
    if (c->rates_hz.n == 0)
        return rate_hz == 44100 || rate_hz == 48000;
    for (size_t i = 0; i < c->rates_hz.n; i++)
        if (c->rates_hz.v[i] == rate_hz)
            return true;
    return false;
}

const struct listen *booth_listen(const struct booth *b, const char *deck)
{
    for (size_t i = 0; i < b->line_check.n; i++)
        if (strcmp(b->line_check.v[i].deck, deck) == 0)
            return &b->line_check.v[i];
    return NULL;
}

const char *booth_label(const struct booth *b, const char *id)
{
    const struct device *d = booth_device(b, id);
    const struct strip *s = booth_strip(b, id, NULL);
    const struct deck *deck = booth_deck(b, id);
    const struct hub *hub = booth_hub(b, id);
    const char *label = d ? d->label : s ? s->label : deck ? deck->label : hub ? hub->label : NULL;
    if (label)
        return label;
    return strcmp(id, "host") == 0 ? "laptop" : id;
}

bool booth_live(const struct booth *b)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        if (d->in_use)
            return true;
        for (size_t k = 0; k < d->strips.n; k++)
            if (d->strips.v[k].in_use)
                return true;
    }
    return false;
}
