/* venues FOLDER COUNT: writes that many venue files as 00000.json and so on. Each is a booth of two
 * to eight players as somebody may have left it: cables exchanged, selectors turned, decks set
 * elsewhere. The same every time on the same system. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "file/venue.h"
#include "model/layout.h"

static int below(int n)
{
    return rand() % n;
}

static struct booth *lay_out(void)
{
    static const char *const printed[] = {"1 2", "1 2 3", "3 1 2 4", "4 2 1 3 5", "1 2 3 4 5 6"};
    int strips = below(5);
    struct layout l = {.venue = "Tideline Hall",
                       .players = 2 + below(7),
                       .decks = strips + 2,
                       .strips = printed[strips],
                       .way = (enum way)below(3),
                       .model = "dunlin 2"};
    struct err e;
    return booth_laid_out(&l, &e);
}

static void exchange_plugs(struct booth *b)
{
    struct cable *one = &b->cables.v[below((int)b->cables.n)],
                 *other = &b->cables.v[below((int)b->cables.n)];
    char kept[REF_SIZE];
    memcpy(kept, one->to, REF_SIZE);
    memcpy(one->to, other->to, REF_SIZE);
    memcpy(other->to, kept, REF_SIZE);
    one->sides = (enum sides)below(4);
}

static void turn_selectors(struct booth *b)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        struct device *d = &b->devices.v[i];
        d->source = below(4) ? SOURCE_COMPUTER : SOURCE_OWN_MEDIA;
        for (size_t k = 0; k < d->strips.n; k++) {
            struct strip *s = &d->strips.v[k];
            if (below(4) == 0)
                snprintf(s->selected, sizeof s->selected, "%s",
                         s->inputs.v[below((int)s->inputs.n)].id);
        }
    }
}

static void leave_in_a_muddle(struct booth *b)
{
    if (b->cables.n && below(2))
        exchange_plugs(b);
    turn_selectors(b);
    for (size_t i = 0; i < b->decks.n; i++)
        if (below(4) == 0)
            b->decks.v[i].set_to = (struct pair){below(8), below(8)};
}

static bool write_venue(const char *folder, int number)
{
    char path[1024];
    struct str text = {0};
    struct booth *b = lay_out();
    leave_in_a_muddle(b);
    venue_write(b, &text);
    snprintf(path, sizeof path, "%s/%05d.json", folder, number);
    FILE *f = fopen(path, "wb");
    bool good = f && fwrite(str_text(&text), 1, text.len, f) == text.len;
    good = f && fclose(f) == 0 && good;
    if (!good)
        perror(path);
    str_clear(&text);
    booth_free(b);
    return good;
}

int main(int argc, char **argv)
{
    if (argc != 3) {
        fprintf(stderr, "usage: venues FOLDER COUNT\n");
        return 2;
    }
    int count = atoi(argv[2]);
    for (int i = 0; i < count; i++)
        if (!write_venue(argv[1], i))
            return 1;
    return 0;
}
