/* A hash of what decides where a deck comes out. */
#include "engine/basis.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "base/hash.h"

static uint64_t hash_text(uint64_t h, const char *text)
{
    return hash_bytes(hash_bytes(h, text, strlen(text)), "\n", 1);
}

static uint64_t hash_number(uint64_t h, int n)
{
    char text[16];
    snprintf(text, sizeof text, "%d", n);
    return hash_text(h, text);
}

static uint64_t hash_device(uint64_t h, const struct device *d)
{
    h = hash_number(hash_text(h, d->id), (int)d->source);
    h = hash_number(h, d->card ? d->card->out_channels : 0);
    for (size_t i = 0; i < d->strips.n; i++) {
        const struct strip *s = &d->strips.v[i];
        h = hash_text(hash_text(h, s->id), s->selected);
        for (size_t k = 0; k < s->inputs.n; k++)
            h = hash_number(h, (int)s->inputs.v[k].level);
    }
    return h;
}

void basis_make(const struct booth *b, struct str *out)
{
    uint64_t h = HASH_OF_NOTHING;
    for (size_t i = 0; i < b->devices.n; i++)
        h = hash_device(h, &b->devices.v[i]);
    for (size_t i = 0; i < b->cables.n; i++) {
        h = hash_text(hash_text(h, b->cables.v[i].from), b->cables.v[i].to);
        h = hash_number(h, (int)b->cables.v[i].sides);
    }
    for (size_t i = 0; i < b->joined.n; i++)
        h = hash_text(h, b->joined.v[i]);
    for (size_t i = 0; i < b->decks.n; i++) {
        h = hash_text(hash_text(h, b->decks.v[i].id), b->decks.v[i].wants);
        h = hash_number(hash_number(h, b->decks.v[i].set_to.left), b->decks.v[i].set_to.right);
    }
    str_addf(out, "%016llx", (unsigned long long)h);
}

bool basis_is_old(const struct booth *b, const struct listen *l)
{
    struct str basis = {0};
    basis_make(b, &basis);
    bool old = l->basis && strcmp(l->basis, basis.text) != 0;
    str_clear(&basis);
    return old;
}
