#include <check.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "model/shape.h"
#include "model/sound.h"
#include "support/booth_from.h"
#include "support/records.h"

/* One sound booth with a thing of every kind, that each case below changes in one place:
 * devices p1 (strips none), m1 (a card of 8, strips s1 s2), p2, x1, t1; hubs hub1 hub2. */
static const char *const world =
    "p1.line > s1.line; m1 card 8; p2.digital > s2.digital; x1.o1 > s2.line; t1.phono > s1.phono;"
    "joined p1 p2; hub hub1 4; hub hub2 4; h1 wants s1; h1 by p1; h2 set 2 3; p1 firmware 1.9 1.10";

#define P1  b->devices.v[0]
#define M1  b->devices.v[1]
#define P2  b->devices.v[2]
#define X1  b->devices.v[3]
#define T1  b->devices.v[4]
#define S1  M1.strips.v[0]
#define S2  M1.strips.v[1]
#define H1  b->decks.v[0]
#define H2  b->decks.v[1]
#define C1  b->cables.v[0]
#define USB S1.inputs.v[3]

static void long_text(char **field, size_t n)
{
    char text[100] = {0};
    memset(text, 'x', n);
    text_set(field, text);
}

static void many(struct booth *b, const char *key, size_t n, const char *prefix)
{
    const struct field *f = shape_field(&shape_booth, key);
    while (records_count(field_of(f, b)) < n) {
        size_t at = records_count(field_of(f, b));
        char *record = add_record(&shape_booth, b, key);
        const struct field *id = shape_field(f->shape, "id");
        const struct field *label = shape_field(f->shape, "label");
        snprintf(field_in(id, record), ID_SIZE, "%s%zu", prefix, at);
        text_set((char **)field_in(label, record), "x");
        if (strcmp(key, "hubs") == 0)
            ((struct hub *)record)->ports = 1;
        if (strcmp(key, "devices") == 0)
            ((struct device *)record)->place = 1;
    }
}

static void many_of(struct booth *b, size_t n, enum device_kind kind)
{
    many(b, "devices", n, "d");
    for (size_t i = 5; i < n; i++)
        b->devices.v[i].kind = kind;
}

static void many_strips(struct booth *b, size_t n)
{
    while (M1.strips.n < n) {
        size_t at = M1.strips.n;
        struct strip *s = add_record(&shape_device, &M1, "strips");
        record_copy(&shape_strip, s, &S1);
        snprintf(s->id, sizeof s->id, "n%zu", at);
    }
}

/* Cables from every output of a player to every line input of so many strips. */
static void many_cables(struct booth *b, size_t n)
{
    many_strips(b, 64);
    for (size_t i = 0; b->cables.n < n; i++) {
        char from[REF_SIZE], to[REF_SIZE];
        static const char *const outputs[] = {"p1.line", "p1.digital", "p2.line", "x1.o3", "x1.o4"};
        snprintf(from, sizeof from, "%s", outputs[i / 64]);
        snprintf(to, sizeof to, "%s.line", M1.strips.v[i % 64].id);
        if (booth_cable(b, from, to))
            continue;
        struct cable *c = add_record(&shape_booth, b, "cables");
        strcpy(c->from, from);
        strcpy(c->to, to);
    }
}

static void survey(struct booth *b, const char *plugged)
{
    b->found = mem_new(1, sizeof *b->found);
    record_init(&shape_found, b->found);
    map_set(&b->found->plugged, "gone", plugged);
    map_set(&b->found->selected, "gone", "line");
    struct cable *c = add_record(&shape_found, b->found, "cables");
    strcpy(c->from, "gone.line");
    strcpy(c->to, "gone.phono");
}

static void hear(struct booth *b)
{
    struct listen *l = add_record(&shape_booth, b, "line_check");
    strcpy(l->deck, "gone");
    struct mark *m = add_record(&shape_listen, l, "heard");
    strcpy(m->strip, "gone");
}

static void plug(struct plug *p, const char *at, int port)
{
    snprintf(p->at, sizeof p->at, "%s", at);
    p->port = port;
}

static void only(struct ints *channels, int first, int second)
{
    channels->n = 0;
    ints_add(channels, first);
    if (second)
        ints_add(channels, second);
}

/* Each: what is changed, the place that must be told (NULL: nothing is wrong), what is said. */
#define CASES(X)                                                                                   \
    /* ids: [a-z0-9-]{1,32}, one space of names, host reserved */                                  \
    X("devices[0].id", "is not an id", strcpy(P1.id, "P1"))                                        \
    X("devices[0].id", "is not an id", strcpy(P1.id, ""))                                          \
    X("devices[0].id", "is not an id", strcpy(P1.id, "p.1"))                                       \
    X("devices[1].strips[0].id", "is not an id", strcpy(S1.id, "s_1"))                             \
    X("devices[0].outputs[0].id", "is not an id", strcpy(P1.outputs.v[0].id, "\xc3\xa9"))          \
    X(NULL, "", strcpy(T1.outputs.v[0].id, "a"), strcpy(b->cables.v[3].from, "t1.a"))              \
    X(NULL, "", strcpy(H2.id, "abcdefghijklmnopqrstuvwxyz-01234"))                                 \
    X("devices[4].id", "\"host\" is the laptop's own name", strcpy(T1.id, "host"))                 \
    X("hubs[1].id", "\"host\" is the laptop's own name", strcpy(b->hubs.v[1].id, "host"))          \
    X("devices[1].strips[1].id", "\"h1\" is there twice", strcpy(S2.id, "h1"), b->cables.n = 0)    \
    X("hubs[0].id", "\"hub1\" is there twice", strcpy(b->hubs.v[1].id, "hub1"))                    \
    X("decks[0].id", "\"h1\" is there twice", strcpy(H2.id, "h1"))                                 \
    X("devices[0].id", "\"p1\" is there twice", strcpy(H2.id, "p1"))                               \
    X("devices[0].outputs[1].id", "\"line\" is there twice", strcpy(P1.outputs.v[1].id, "line"))   \
    X("devices[1].strips[0].inputs[3].id", "\"line\" is there twice", strcpy(USB.id, "line"))      \
    X(NULL, "", strcpy(P1.outputs.v[1].id, "p1"), strcpy(USB.id, "host"))                          \
    /* texts that must be there, and the limit of 64 bytes */                                      \
    X("devices[0].label", "is empty", text_set(&P1.label, ""))                                     \
    X("devices[1].strips[0].label", "is empty", text_set(&S1.label, NULL))                         \
    X("decks[1].label", "is empty", text_set(&H2.label, NULL))                                     \
    X("venue.name", "is empty", text_set(&b->venue.name, NULL))                                    \
    X("devices[0].label", "65 bytes", long_text(&P1.label, 65))                                    \
    X(NULL, "", long_text(&P1.label, 64))                                                          \
    X(NULL, "", text_set(&b->hubs.v[0].label, NULL))                                               \
    /* ranges */                                                                                   \
    X("devices[0].card.out_channels", "0 is out of range", P1.card->out_channels = 0)              \
    X("devices[1].card.out_channels", "257 is out", M1.card->out_channels = 257)                   \
    X(NULL, "", M1.card->out_channels = 256)                                                       \
    X("devices[0].card.in_channels", "expected 0 to 256", P1.card->in_channels = 257)              \
    X("devices[0].card.bits", "expected 8 to 64", P1.card->bits = 7)                               \
    X("devices[0].card.clock_ppm", "expected 0 to 10000", P1.card->clock_ppm = 10001)              \
    X("devices[0].card.rates_hz", "7999 is out", ints_add(&P1.card->rates_hz, 7999))               \
    X("devices[0].place", "expected 1 to 999", P1.place = 0)                                       \
    X("devices[1].strips[1].place", "expected 1 to 999", S2.place = 1000)                          \
    X(NULL, "", P1.place = 999, P2.place = 999)                                                    \
    X("hubs[0].ports", "expected 1 to 64", b->hubs.v[0].ports = 65)                                \
    X("host.rate_hz", "expected 8000 to 768000", b->host.rate_hz = 768001)                         \
    X("host.buffer_frames", "expected 16 to 65536", b->host.buffer_frames = 15)                    \
    X("host.usb_ports", "expected 1 to 64", b->host.usb_ports = 0)                                 \
    X("decks[1].set_to", "16384 is out", H2.set_to.right = MAX_CHANNEL + 1)                        \
    X("decks[1].set_to", "-1 is out", H2.set_to.left = -1)                                         \
    X(NULL, "", H2.set_to = (struct pair){MAX_CHANNEL, MAX_CHANNEL})                               \
    /* jacks */                                                                                    \
    X("devices[0].outputs[0].channels", "is missing", P1.outputs.v[0].channels.n = 0)              \
    X("devices[1].strips[0].inputs[3].channels", "is missing", USB.channels.n = 0)                 \
    X("devices[0].outputs[0].channels", "3 is beyond the card",                                    \
      only(&P1.outputs.v[0].channels, 3, 0))                                                       \
    X("devices[1].strips[0].inputs[3].channels", "9 is beyond the card",                           \
      only(&USB.channels, 8, 9))                                                                   \
    X("devices[4].outputs[0].channels", "3 is beyond the card",                                    \
      only(&T1.outputs.v[0].channels, 3, 0))                                                       \
    X(NULL, "", only(&T1.outputs.v[0].channels, 2, 0), only(&USB.channels, 8, 1))                  \
    X("devices[0].outputs[0].channels", "2 stands there twice",                                    \
      only(&P1.outputs.v[0].channels, 2, 2))                                                       \
    X("devices[1].strips[0].inputs[0].channels", "stands there twice",                             \
      only(&S1.inputs.v[0].channels, 1, 1))                                                        \
    X("devices[1].strips[0].inputs[3].channels", "3 channels", only(&USB.channels, 1, 2),          \
      ints_add(&USB.channels, 3))                                                                  \
    X("devices[0].outputs[0].level", "an output cannot be usb", P1.outputs.v[0].level = LEVEL_USB) \
    X("devices[3].inputs[0].level", "a usb input stands only in a strip",                          \
      record_copy(&shape_input, add_record(&shape_device, &X1, "inputs"), &USB))                   \
    X("devices[1].strips[0].inputs[3].level", "needs a card in its mixer",                         \
      record_clear(&shape_card, M1.card), mem_free(M1.card), M1.card = NULL)                       \
    X("devices[1].strips[0].inputs[0].level", "not among its levels",                              \
      ints_add(&S1.inputs.v[0].levels, LEVEL_PHONO))                                               \
    X("devices[1].strips[0].inputs[0].levels", "cannot stand on digital",                          \
      only(&S1.inputs.v[0].levels, LEVEL_LINE, LEVEL_DIGITAL))                                     \
    X("devices[1].strips[0].inputs[0].levels", "names a level twice",                              \
      only(&S1.inputs.v[0].levels, LEVEL_LINE, LEVEL_LINE))                                        \
    X("devices[1].strips[0].inputs[3].level", "not among its levels",                              \
      ints_add(&USB.levels, LEVEL_LINE))                                                           \
    X(NULL, "", only(&S1.inputs.v[2].levels, LEVEL_LINE, LEVEL_PHONO))                             \
    X("devices[1].strips[0].selected", "\"mic\" is not an input", strcpy(S1.selected, "mic"))      \
    X("devices[1].strips[0].selected", "is empty", strcpy(S1.selected, ""))                        \
    X(NULL, "", strcpy(S1.selected, "usb"))                                                        \
    X("devices[1].outputs", "a mixer has no outputs",                                              \
      record_copy(&shape_output, add_record(&shape_device, &M1, "outputs"), &T1.outputs.v[0]))     \
    X("devices[0].strips", "only a mixer has strips",                                              \
      record_copy(&shape_strip, add_record(&shape_device, &P1, "strips"), &S1),                    \
      strcpy(P1.strips.v[0].id, "s8"))                                                             \
    X("devices[0].inputs", "only an interface has inputs",                                         \
      record_copy(&shape_input, add_record(&shape_device, &P1, "inputs"), &S1.inputs.v[0]))        \
    X(NULL, "",                                                                                    \
      record_copy(&shape_input, add_record(&shape_device, &X1, "inputs"), &S1.inputs.v[0]))        \
    /* firmware */                                                                                 \
    X("devices[0].firmware", "\"v1\" is not dotted digits", text_set(&P1.firmware, "v1"))          \
    X("devices[0].firmware", "\"1.\" is not dotted digits", text_set(&P1.firmware, "1."))          \
    X("devices[0].firmware_min", "\".1\" is not dotted digits", text_set(&P1.firmware_min, ".1"))  \
    X("devices[0].firmware_min", "\"1..2\" is not dotted digits",                                  \
      text_set(&P1.firmware_min, "1..2"))                                                          \
    X(NULL, "", text_set(&P1.firmware, "10"), text_set(&P1.firmware_min, "0.0.1"))                 \
    /* data leads */                                                                               \
    X("devices[0].plugged", "there is no hub \"hub3\"", plug(&P1.plugged, "hub3", 1))              \
    X("devices[0].plugged", "there is no hub \"p2\"", plug(&P1.plugged, "p2", 1))                  \
    X("devices[0].plugged", "port 0 is below 1", plug(&P1.plugged, "host", 0))                     \
    X("devices[0].plugged", "there is no hub \"built-in\"", plug(&P1.plugged, "built-in", 1))      \
    X("hubs[0].plugged", "there is no hub \"built-in\"",                                           \
      plug(&b->hubs.v[0].plugged, "built-in", 0))                                                  \
    X("hubs[0].plugged", "in a ring", plug(&b->hubs.v[0].plugged, "hub1", 1))                      \
    X("hubs[0].plugged", "in a ring", plug(&b->hubs.v[0].plugged, "hub2", 1),                      \
      plug(&b->hubs.v[1].plugged, "hub1", 1))                                                      \
    X(NULL, "", plug(&b->hubs.v[0].plugged, "hub2", 1))                                            \
    X(NULL, "", plug(&P1.plugged, "hub1", 99), plug(&P2.plugged, "hub1", 99))                      \
    X(NULL, "", plug(&X1.plugged, "built-in", 0))                                                  \
    /* cables */                                                                                   \
    X("cables[0].from", "\"p9.line\" is not an output", strcpy(C1.from, "p9.line"))                \
    X("cables[0].from", "\"p1.usb\" is not an output", strcpy(C1.from, "p1.usb"))                  \
    X("cables[0].from", "\"p1\" is not an output", strcpy(C1.from, "p1"))                          \
    X("cables[0].from", "\"s2.line\" is not an output", strcpy(C1.from, "s2.line"))                \
    X("cables[0].to", "\"p2.line\" is not an input", strcpy(C1.to, "p2.line"))                     \
    X("cables[0].to", "\"s1\" is not an input", strcpy(C1.to, "s1"))                               \
    X("cables[0].to", "\"s1.line.x\" is not an input", strcpy(C1.to, "s1.line.x"))                 \
    X("cables[0].to", "is a usb input", strcpy(C1.to, "s1.usb"))                                   \
    X("cables[1].to", "the same cable is there twice", strcpy(b->cables.v[1].from, "p1.line"),     \
      strcpy(b->cables.v[1].to, "s1.line"))                                                        \
    X(NULL, "", strcpy(b->cables.v[1].from, "p1.line"))                                            \
    X(NULL, "", strcpy(b->cables.v[1].to, "s1.line"))                                              \
    /* joined */                                                                                   \
    X("joined[0]", "there is no device \"hub1\"", texts_insert(&b->joined, 0, "hub1"))             \
    X("joined[2]", "\"p1\" is joined twice", texts_add(&b->joined, "p1"))                          \
    X("joined[2]", "\"t1\" has no card", texts_add(&b->joined, "t1"))                              \
    X(NULL, "", texts_add(&b->joined, "m1"))                                                       \
    /* decks */                                                                                    \
    X("decks[0].wants", "there is no strip \"s9\"", strcpy(H1.wants, "s9"))                        \
    X("decks[0].wants", "there is no strip \"p1\"", strcpy(H1.wants, "p1"))                        \
    X("decks[0].controlled_by", "\"p9\" is not a player", strcpy(H1.controlled_by, "p9"))          \
    X("decks[0].controlled_by", "\"m1\" is not a player", strcpy(H1.controlled_by, "m1"))          \
    X("decks[0].controlled_by", "\"x1\" is not a player", strcpy(H1.controlled_by, "x1"))          \
    X(NULL, "", strcpy(H1.controlled_by, "t1"), strcpy(H2.wants, "s1"))                            \
    /* names in what was found or heard may be gone, data leads still read as such */              \
    X(NULL, "", survey(b, NULL), hear(b), map_set(&b->checklist, "join-gone", "done"))             \
    X(NULL, "", survey(b, "gone.3"))                                                               \
    X(NULL, "", survey(b, "built-in"))                                                             \
    X("found.plugged", "\"gone\" is nowhere to plug into", survey(b, "gone"))                      \
    X("found.plugged", "\"host.0\" is nowhere to plug into", survey(b, "host.0"))                  \
    X("line_check[0].deck", "is empty", hear(b), strcpy(b->line_check.v[0].deck, ""))              \
    /* limits */                                                                                   \
    X(NULL, "", many_of(b, MAX_DEVICES, KIND_CONTROLLER))                                          \
    X("devices", "129 devices are too many", many_of(b, MAX_DEVICES + 1, KIND_CONTROLLER))         \
    X(NULL, "", many_of(b, MAX_PLAYERS + 3, KIND_PLAYER))                                          \
    X("devices", "65 players are too many", many_of(b, MAX_PLAYERS + 4, KIND_PLAYER))              \
    X(NULL, "", many_strips(b, MAX_STRIPS))                                                        \
    X("devices", "65 strips are too many", many_strips(b, MAX_STRIPS + 1))                         \
    X(NULL, "", many(b, "hubs", MAX_HUBS, "u"))                                                    \
    X("hubs", "33 hubs are too many", many(b, "hubs", MAX_HUBS + 1, "u"))                          \
    X(NULL, "", many(b, "decks", MAX_DECKS, "k"))                                                  \
    X("decks", "65 decks are too many", many(b, "decks", MAX_DECKS + 1, "k"))                      \
    X(NULL, "", many_cables(b, MAX_CABLES))                                                        \
    X("cables", "257 cables are too many", many_cables(b, MAX_CABLES + 1))

/* Makes the change of one case; tells what must come of it. */
static void change(struct booth *b, int wanted, const char **place, const char **says)
{
    int i = 0;
#define BRANCH(where, what, ...)                                                                   \
    if (i++ == wanted) {                                                                           \
        __VA_ARGS__;                                                                               \
        *place = where;                                                                            \
        *says = what;                                                                              \
        return;                                                                                    \
    }
    CASES(BRANCH)
#undef BRANCH
}

#define ONE_MORE(...) +1
enum { COUNT = 0 CASES(ONE_MORE) };

START_TEST(what_breaks_a_rule_is_refused_and_what_nearly_does_is_not)
{
    struct booth *b = booth_from(world);
    const char *place = NULL, *says = NULL;
    struct err e = {0};
    change(b, _i, &place, &says);
    bool sound = booth_sound(b, &e);
    if (place) {
        ck_assert_msg(!sound, "case %d: expected %s: %s", _i, place, says);
        ck_assert_int_eq(e.code, ERR_READ);
        ck_assert_str_eq(e.place, place);
        ck_assert_msg(strstr(e.says, says) != NULL, "%s: %s", e.place, e.says);
    } else {
        ck_assert_msg(sound, "case %d: %s: %s", _i, e.place, e.says);
    }
    booth_free(b);
}
END_TEST

Suite *test_sound(void)
{
    Suite *s = suite_create("model/sound");
    TCase *t = tcase_create("sound");
    tcase_add_loop_test(t, what_breaks_a_rule_is_refused_and_what_nearly_does_is_not, 0, COUNT);
    suite_add_tcase(s, t);
    return s;
}
