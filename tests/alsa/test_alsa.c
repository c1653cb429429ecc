/* The main job held against somebody else's: a general-purpose sound library combines the joined
 * cards, every side of every deck plays a tone of its own, and what arrives in each card is
 * compared with the circuit. From there a short walk by names, which shares nothing with the
 * engine, follows the outputs, cables and selectors to the strips, and must find what heard finds.
 *
 * Tone 2 * d is the left side of deck d, tone 2 * d + 1 its right. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "alsa/interface.h"
#include "base/mem.h"
#include "base/str.h"
#include "engine/heard.h"
#include "engine/route.h"
#include "model/shape.h"
#include "support/booth_from.h"
#include "support/scratch_file.h"

#ifdef HAVE_alsa
static const char *const side_names[] = {"left", "right"};

struct trial {
    const char *world; /* how to make the booth again */
    struct booth *b;
    struct circuit *c;
    int cards[CARDS_MAX];
    int to[TONES_MAX]; /* the channel of each tone; -1: not played */
    size_t n_tones;
    struct texts heard; /* "s1.left=h2.right", by the walk */
};

/* --- from the cards to the strips, by names --------------------------------------------------- */

static void hear(struct trial *t, const struct strip *s, int side, uint32_t tones)
{
    char text[3 * ID_SIZE];
    for (size_t i = 0; i < t->n_tones; i++) {
        if (!(tones >> i & 1))
            continue;
        snprintf(text, sizeof text, "%s.%s=%s.%s", s->id, side_names[side], t->b->decks.v[i / 2].id,
                 side_names[i % 2]);
        if (texts_find(&t->heard, text) < 0)
            texts_add(&t->heard, text);
    }
}

static void follow_cable(struct trial *t, const struct cable *cable, int side, uint32_t tones)
{
    static const int comes_out[][2] = {[SIDES_STRAIGHT] = {0, 1},
                                       [SIDES_SWAPPED] = {1, 0},
                                       [SIDES_LEFT_ONLY] = {0, -1},
                                       [SIDES_RIGHT_ONLY] = {-1, 1}};
    struct out_end from;
    struct in_end to;
    ck_assert(booth_output(t->b, cable->from, &from) && booth_input(t->b, cable->to, &to));
    bool digital = from.output->level == LEVEL_DIGITAL;
    side = comes_out[cable->sides][side];
    if (side >= 0 && to.strip && strip_selected(to.strip) == to.input &&
        digital == (to.input->level == LEVEL_DIGITAL))
        hear(t, to.strip, side, tones);
}

static void leave_by_outputs(struct trial *t, const struct device *d, int channel, uint32_t tones)
{
    char name[REF_SIZE];
    for (size_t i = 0; i < d->outputs.n; i++) {
        const struct output *o = &d->outputs.v[i];
        snprintf(name, sizeof name, "%s.%s", d->id, o->id);
        for (size_t side = 0; side < o->channels.n; side++)
            for (size_t k = 0; k < t->b->cables.n && o->channels.v[side] == channel; k++)
                if (strcmp(t->b->cables.v[k].from, name) == 0)
                    follow_cable(t, &t->b->cables.v[k], (int)side, tones);
    }
}

static void enter_strips(struct trial *t, const struct device *mixer, int channel, uint32_t tones)
{
    for (size_t i = 0; i < mixer->strips.n; i++) {
        const struct input *in = strip_selected(&mixer->strips.v[i]);
        if (in->level != LEVEL_USB || !input_is_ours(mixer, in))
            continue;
        for (size_t side = 0; side < in->channels.n; side++)
            if (in->channels.v[side] == channel)
                hear(t, &mixer->strips.v[i], (int)side, tones);
    }
}

/* A channel of a card, from 1, with the tones that arrived in it. */
static void follow(struct trial *t, const struct device *d, int channel, uint32_t tones)
{
    if (d->kind == KIND_MIXER)
        enter_strips(t, d, channel, tones);
    else if (d->kind != KIND_PLAYER || d->source == SOURCE_COMPUTER)
        leave_by_outputs(t, d, channel, tones);
}

/* --- what the engine says --------------------------------------------------------------------- */

/* The tones that by the circuit belong in a channel of a device's card. */
static uint32_t tones_by_circuit(const struct trial *t, const struct device *d, int channel)
{
    uint32_t tones = 0;
    for (size_t i = 0; i < t->n_tones; i++) {
        int on_card = 0, owner = circuit_owner(t->c, t->to[i], &on_card);
        if (owner >= 0 && circuit_device(t->c, owner) == d && on_card == channel)
            tones |= UINT32_C(1) << i;
    }
    return tones;
}

static struct texts heard_by_engine(const struct trial *t)
{
    struct texts out = {0};
    struct heard h = heard_make(t->c);
    char text[3 * ID_SIZE];
    for (size_t i = 0; i < h.n; i++) {
        snprintf(text, sizeof text, "%s.%s=%s.%s", circuit_strip(t->c, h.v[i].strip)->id,
                 side_names[h.v[i].side], t->b->decks.v[h.v[i].deck].id,
                 side_names[h.v[i].deck_side]);
        texts_add(&out, text);
    }
    heard_clear(&h);
    return out;
}

/* --- comparing -------------------------------------------------------------------------------- */

static int by_text(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

/* Sorted, with a blank between, and freed. */
static void join_texts(struct texts *t, struct str *out)
{
    if (t->n)
        qsort(t->v, t->n, sizeof *t->v, by_text);
    for (size_t i = 0; i < t->n; i++)
        str_addf(out, "%s%s", i ? " " : "", t->v[i]);
    texts_clear(t);
}

static void compare_heard(struct trial *t)
{
    struct str walked = {0}, engine = {0};
    struct texts by_engine = heard_by_engine(t);
    join_texts(&t->heard, &walked);
    join_texts(&by_engine, &engine);
    ck_assert_msg(strcmp(str_text(&walked), str_text(&engine)) == 0,
                  "%s:\nby the cards %s\nby the engine %s", t->world, str_text(&walked),
                  str_text(&engine));
    str_clear(&walked);
    str_clear(&engine);
}

static void listen_to_cards(struct trial *t)
{
    uint32_t tones[CARD_CHANNELS_MAX];
    for (size_t i = 0; i < t->b->joined.n; i++) {
        const struct device *d = booth_device(t->b, t->b->joined.v[i]);
        interface_listen(i, t->cards[i], tones);
        for (int k = 0; k < t->cards[i]; k++) {
            uint32_t wanted = tones_by_circuit(t, d, k + 1);
            ck_assert_msg(tones[k] == wanted, "%s: channel %d of %s has tones %x, not %x", t->world,
                          k + 1, d->id, (unsigned)tones[k], (unsigned)wanted);
            follow(t, d, k + 1, tones[k]);
        }
    }
}

/* Where every deck plays; false when nothing of it reaches the interface. */
static bool set_decks(struct trial *t)
{
    bool sounds = false;
    t->n_tones = 2 * t->b->decks.n;
    ck_assert_uint_le(t->n_tones, TONES_MAX);
    for (size_t i = 0; i < t->b->decks.n; i++) {
        struct pair p = route_effective(t->c, (int)i);
        t->to[2 * i] = p.left;
        t->to[2 * i + 1] = p.left < 0 ? -1 : p.right;
        sounds |= p.left >= 0 && (p.left < t->c->channels || p.right < t->c->channels);
    }
    return sounds;
}

/* Plays a booth and compares; frees it. Returns how many cards were played, 0 when nothing can
 * sound. */
static size_t play_booth(const char *world, struct booth *b)
{
    struct trial t = {.world = world, .b = b, .c = circuit_new(b)};
    size_t n_cards = b->joined.n;
    ck_assert_uint_le(n_cards, CARDS_MAX);
    for (size_t i = 0; i < n_cards; i++)
        t.cards[i] = booth_device(b, b->joined.v[i])->card->out_channels;
    if (set_decks(&t)) {
        interface_play(t.cards, n_cards, t.to, t.n_tones);
        listen_to_cards(&t);
        compare_heard(&t);
    } else {
        n_cards = 0;
    }
    circuit_free(t.c);
    booth_free(b);
    return n_cards;
}

/* --- booths ----------------------------------------------------------------------------------- */

/* Booths that each have something to get wrong. */
static const char *const worlds[] = {
    "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 wants s2",
    "p1.line > s1.line; p2.line > s2.line; joined p2 p1; h1 wants s1; h2 wants s2",
    "p1.line > s2.line; p2.line > s1.line; p3.line > s3.line; joined p3 p1 p2; "
    "h1 wants s1; h2 wants s2; h3 wants s3",
    /* an odd card shifts every pair after it */
    "p1 card 3; p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 wants s2",
    "p1 card 5; p2 card 3; p3.line > s1.line; joined p1 p2 p3; h1 wants s1; h2 set 7 8",
    /* a pair that straddles two cards */
    "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 set 1 2",
    "p1.line x s1.line; p2.line r> s2.line; joined p1 p2; h1 set 2 1; h2 set 1 1",
    /* two decks on one pair, one on a channel that is not there */
    "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 set 2 3; h2 set 3 2; h3 set 3 4",
    /* the mixer's own card after and before a player's */
    "m1 card 8; p1.line > s1.line; s2 selects usb; joined p1 m1; h1 wants s1; h2 wants s2",
    "m1 card 8; p1.line > s1.line; s2 selects usb; joined m1 p1; h1 wants s1; h2 wants s2",
    /* an interface patched into the strips; a player on its own media beside it */
    "x1.o1 > s2.line; x1.o3 > s1.line; p1.line > s3.line; joined p1 x1; h1 wants s1; "
    "h2 wants s2; h3 wants s3; p1 own-media",
    /* digital into digital, digital into analogue */
    "p1.digital > s1.digital; s1 selects digital; p2.digital > s2.line; joined p2 p1; h1 wants s1; "
    "h2 wants s2",
};

START_TEST(each_card_gets_what_the_circuit_says) /* (practice) */
{
    ck_assert_uint_gt(play_booth(worlds[_i], booth_from(worlds[_i])), 1);
}
END_TEST

static void shuffle(unsigned long long *dice, int *v, int n)
{
    for (int i = n - 1; i > 0; i--) {
        int k = (int)random_below(dice, (unsigned)i + 1), kept = v[i];
        v[i] = v[k];
        v[k] = kept;
    }
}

/* Players with cards of two to six channels, wired to the strips and joined in any order, the
 * mixer's card among them in every third booth; every deck wants a strip, some are set elsewhere.
 */
static struct booth *wired_booth(unsigned seed)
{
    static const char *const ways[] = {">", ">", ">", "x", "l>", "r>"};
    unsigned long long dice = seed;
    struct str s = {0};
    int n = 2 + (int)random_below(&dice, 5), strips[6], joined[6];
    for (int i = 0; i < n; i++)
        strips[i] = joined[i] = i + 1;
    shuffle(&dice, strips, n);
    shuffle(&dice, joined, n);
    for (int i = 1; i <= n; i++) {
        str_addf(&s, "p%d card %u; ", i, 2 + random_below(&dice, 5));
        str_addf(&s, "p%d.line %s s%d.line; h%d wants s%d; ", i, ways[random_below(&dice, 6)],
                 strips[i - 1], i, i);
    }
    if (seed % 3 == 0)
        str_addf(&s, "m1 card %d; s1 selects usb; joined m1; ", 2 * n);
    for (int i = 0; i < n; i++)
        str_addf(&s, "joined p%d; ", joined[i]);
    for (int i = 1; i <= n; i++)
        if (random_below(&dice, 4) == 0) {
            unsigned at = random_below(&dice, 4 * (unsigned)n);
            str_addf(&s, "h%d set %u %u; ", i, at, at + 1);
        }
    struct booth *b = booth_from(str_text(&s));
    str_clear(&s);
    return b;
}

/* Plays the booths that make(seed) gives until wanted of them had two cards or more; most seeds
 * are tried. */
static void play_random(const char *what, struct booth *(*make)(unsigned), int wanted, int most)
{
    int played = 0;
    for (int seed = 0; seed < most && played < wanted; seed++) {
        char world[64];
        snprintf(world, sizeof world, "%s(%d)", what, seed);
        played += play_booth(world, make((unsigned)seed)) >= 2;
    }
    ck_assert_int_eq(played, wanted);
}

START_TEST(wired_booths_of_any_joined_order_sound_in_the_cards_as_heard)
{
    play_random("wired_booth", wired_booth, 60, 60);
}
END_TEST

START_TEST(booths_of_every_kind_sound_in_the_cards_as_heard)
{
    play_random("booth_random", booth_random, 60, 400);
}
END_TEST

static void add_tests(TCase *t)
{
    tcase_add_checked_fixture(t, scratch_make, scratch_remove);
    tcase_add_loop_test(t, each_card_gets_what_the_circuit_says, 0, sizeof worlds / sizeof *worlds);
    tcase_add_test(t, wired_booths_of_any_joined_order_sound_in_the_cards_as_heard);
    tcase_add_test(t, booths_of_every_kind_sound_in_the_cards_as_heard);
}
#else
static void add_tests(TCase *t)
{
    (void)t;
    puts("skipped: alsa needs alsa-lib");
}
#endif

Suite *test_alsa(void)
{
    Suite *s = suite_create("alsa/interface");
    TCase *t = tcase_create("alsa");
    add_tests(t);
    suite_add_tcase(s, t);
    return s;
}
