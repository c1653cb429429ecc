/* One row a field; everything generic about records walks these rows.
 *
 * The lists of all kinds are a pointer and a count, in that order; they are moved in and out of
 * records by memcpy, so that no pointer is read through a type it was not stored as. */
#include "model/shape.h"

#include <assert.h>
#include <string.h>

#include "base/mem.h"

/* --- the tables ------------------------------------------------------------------------------- */

#define ROW(type, member, key_, title_, kind_, ...)                                                \
    {                                                                                              \
        .key = key_, .title = title_, .kind = kind_, .offset = offsetof(struct type, member),      \
        __VA_ARGS__                                                                                \
    }
#define SHAPE(name, what, ...)                                                                     \
    static const struct field name##_fields[] = {__VA_ARGS__};                                     \
    const struct shape shape_##name = {what, sizeof(struct name), name##_fields,                   \
                                       sizeof name##_fields / sizeof *name##_fields}

#define LABEL .high = LABEL_MAX
#define MUST  .required = true
#define PAPER .paper = true

SHAPE(venue, "the venue", ROW(venue, name, "name", "name", FIELD_TEXT, MUST, LABEL),
      ROW(venue, room, "room", "room", FIELD_TEXT, .high = 0),
      ROW(venue, notes, "notes", "notes", FIELD_TEXT, .high = 0));

SHAPE(combination, "a combination", ROW(combination, name, "name", "name", FIELD_TEXT, .high = 0),
      ROW(combination, models, "models", "models", FIELD_TEXTS, .high = 0));

#define MINUTES(member, key, title)                                                                \
    ROW(minutes, member, key, title, FIELD_MILLI, .high = 600000, .fallback = -1)
SHAPE(minutes, "minutes", MINUTES(set, "set", "set a deck"),
      MINUTES(selector, "selector", "turn a selector"), MINUTES(switch_, "switch", "turn a switch"),
      MINUTES(source, "source", "change a source"), MINUTES(move, "move", "move a cable"),
      MINUTES(add, "add", "add a cable"), MINUTES(unplug, "unplug", "unplug a cable"),
      MINUTES(join, "join", "join a device"), MINUTES(leave, "leave", "leave the interface"),
      MINUTES(plug, "plug", "plug a data lead"));

SHAPE(host, "the host",
      ROW(host, channel_names, "channel_names", "pairs are named", FIELD_WORD,
          .words = &words_channel_names),
      ROW(host, combining, "combining", "combines cards", FIELD_WORD, .words = &words_combining),
      ROW(host, gap, "gap", "when one is missing", FIELD_WORD, .words = &words_gap),
      ROW(host, on_drop, "on_drop", "when one drops out", FIELD_WORD, .words = &words_on_drop),
      ROW(host, drift_correction, "drift_correction", "drift correction", FIELD_BOOL, .high = 1),
      ROW(host, rate_hz, "rate_hz", "sample rate, Hz", FIELD_INT, .low = 8000, .high = 768000,
          .fallback = 48000),
      ROW(host, buffer_frames, "buffer_frames", "buffer, frames", FIELD_INT, .low = 16,
          .high = 65536, .fallback = 256),
      ROW(host, usb_ports, "usb_ports", "USB ports", FIELD_INT, .low = 1, .high = 64,
          .fallback = 2),
      ROW(host, usb_buses, "usb_buses", "USB buses", FIELD_INT, .low = 1, .high = 64,
          .fallback = 1),
      ROW(host, port_ma, "port_ma", "mA at a port", FIELD_INT, .low = 0, .high = 10000,
          .fallback = 500),
      ROW(host, latency_limit_ms, "latency_limit_ms", "latency limit, ms", FIELD_INT, .low = 1,
          .high = 1000, .fallback = 20),
      ROW(host, combinations, "combinations", "saved combinations", FIELD_RECORDS, PAPER,
          .shape = &shape_combination),
      ROW(host, minutes, "minutes", "minutes", FIELD_OPTION, PAPER, .shape = &shape_minutes));

SHAPE(card, "a card",
      ROW(card, out_channels, "out_channels", "output channels", FIELD_INT, MUST, .low = 1,
          .high = 256),
      ROW(card, in_channels, "in_channels", "input channels", FIELD_INT, .high = 256),
      ROW(card, bits, "bits", "bits", FIELD_INT, .low = 8, .high = 64, .fallback = 24),
      ROW(card, slot_bytes, "slot_bytes", "bytes a sample", FIELD_INT, .low = 0, .high = 8),
      ROW(card, rates_hz, "rates_hz", "rates, Hz", FIELD_INTS, .low = 8000, .high = 768000),
      ROW(card, clock_ppm, "clock_ppm", "clock, ppm", FIELD_INT, .high = 10000, .fallback = 50));

SHAPE(usb, "usb", ROW(usb, speed, "speed", "speed", FIELD_WORD, .words = &words_speed),
      ROW(usb, max_power_ma, "max_power_ma", "power, mA", FIELD_INT, .high = 10000),
      ROW(usb, self_powered, "self_powered", "own supply", FIELD_BOOL, .fallback = 1));

SHAPE(output, "an output", ROW(output, id, "id", "id", FIELD_ID, MUST),
      ROW(output, connector, "connector", "connector", FIELD_WORD, .words = &words_connector),
      ROW(output, level, "level", "level", FIELD_WORD, MUST, .words = &words_level),
      ROW(output, channels, "channels", "card channels", FIELD_INTS, .low = 1, .high = 256));

SHAPE(input, "an input", ROW(input, id, "id", "id", FIELD_ID, MUST),
      ROW(input, connector, "connector", "connector", FIELD_WORD, .words = &words_connector),
      ROW(input, level, "level", "level", FIELD_WORD, MUST, .words = &words_level),
      ROW(input, levels, "levels", "switch", FIELD_WORDS, .words = &words_level),
      ROW(input, channels, "channels", "card channels", FIELD_INTS, .low = 1, .high = 256),
      ROW(input, socket, "socket", "computer socket", FIELD_TEXT, LABEL));

SHAPE(strip, "a strip", ROW(strip, id, "id", "id", FIELD_ID, MUST),
      ROW(strip, label, "label", "label", FIELD_TEXT, MUST, LABEL),
      ROW(strip, place, "place", "place from the left", FIELD_INT, MUST, .low = 1, .high = 999),
      ROW(strip, selected, "selected", "selected", FIELD_REF, MUST),
      ROW(strip, crossfader, "crossfader", "crossfader", FIELD_WORD, .words = &words_crossfader),
      ROW(strip, in_use, "in_use", "in use by", FIELD_TEXT, .high = 0),
      ROW(strip, inputs, "inputs", "inputs", FIELD_RECORDS, MUST, .shape = &shape_input));

SHAPE(device, "a device", ROW(device, id, "id", "id", FIELD_ID, MUST),
      ROW(device, kind, "kind", "kind", FIELD_WORD, MUST, .words = &words_device_kind),
      ROW(device, label, "label", "label", FIELD_TEXT, MUST, LABEL),
      ROW(device, place, "place", "place from the left", FIELD_INT, MUST, .low = 1, .high = 999),
      ROW(device, model, "model", "model", FIELD_TEXT, .high = 0),
      ROW(device, family, "family", "family", FIELD_TEXT, .high = 0),
      ROW(device, firmware, "firmware", "firmware", FIELD_TEXT, .high = 0),
      ROW(device, firmware_min, "firmware_min", "firmware needed", FIELD_TEXT, .high = 0),
      ROW(device, in_use, "in_use", "in use by", FIELD_TEXT, .high = 0),
      ROW(device, source, "source", "source", FIELD_WORD, .words = &words_source),
      ROW(device, control, "control", "control", FIELD_WORD, .words = &words_control),
      ROW(device, plugged, "plugged", "plugged into", FIELD_PLUG, .high = 0),
      ROW(device, socket, "socket", "our lead's socket", FIELD_TEXT, LABEL),
      ROW(device, card, "card", "sound card", FIELD_OPTION, .shape = &shape_card),
      ROW(device, usb, "usb", "USB", FIELD_OPTION, .shape = &shape_usb),
      ROW(device, outputs, "outputs", "outputs", FIELD_RECORDS, .shape = &shape_output),
      ROW(device, inputs, "inputs", "inputs", FIELD_RECORDS, .shape = &shape_input),
      ROW(device, strips, "strips", "strips", FIELD_RECORDS, .shape = &shape_strip));

SHAPE(hub, "a hub", ROW(hub, id, "id", "id", FIELD_ID, MUST),
      ROW(hub, label, "label", "label", FIELD_TEXT, LABEL),
      ROW(hub, ports, "ports", "ports", FIELD_INT, MUST, .low = 1, .high = 64),
      ROW(hub, self_powered, "self_powered", "own supply", FIELD_BOOL, .high = 1),
      ROW(hub, plugged, "plugged", "plugged into", FIELD_PLUG, .high = 0),
      ROW(hub, port_ma, "port_ma", "mA at a port", FIELD_INT, .high = 10000),
      ROW(hub, multi_tt, "multi_tt", "a translator a port", FIELD_BOOL, .high = 1));

SHAPE(cable, "a cable", ROW(cable, from, "from", "from", FIELD_REF, MUST),
      ROW(cable, to, "to", "to", FIELD_REF, MUST),
      ROW(cable, sides, "sides", "sides", FIELD_WORD, .words = &words_sides));

SHAPE(deck, "a deck", ROW(deck, id, "id", "id", FIELD_ID, MUST),
      ROW(deck, label, "label", "label", FIELD_TEXT, MUST, LABEL),
      ROW(deck, wants, "wants", "wants strip", FIELD_REF, .high = 0),
      ROW(deck, controlled_by, "controlled_by", "controlled by", FIELD_REF, .high = 0),
      ROW(deck, set_to, "set_to", "set to", FIELD_PAIR, .low = 0, .high = MAX_CHANNEL));

SHAPE(found, "the booth as found",
      ROW(found, cables, "cables", "cables", FIELD_RECORDS, .shape = &shape_cable),
      ROW(found, selected, "selected", "selectors", FIELD_MAP, .high = 0),
      ROW(found, level, "level", "switches", FIELD_MAP, .words = &words_level),
      ROW(found, source, "source", "sources", FIELD_MAP, .words = &words_source),
      ROW(found, plugged, "plugged", "data leads", FIELD_MAP, .high = 0),
      ROW(found, gone, "gone", "labels of what is gone", FIELD_MAP, .high = 0));

SHAPE(mark, "what was heard", ROW(mark, strip, "strip", "strip", FIELD_REF, MUST),
      ROW(mark, left, "left", "left", FIELD_WORD, .words = &words_ear),
      ROW(mark, right, "right", "right", FIELD_WORD, .words = &words_ear));

SHAPE(listen, "a check of a deck", ROW(listen, deck, "deck", "deck", FIELD_REF, MUST),
      ROW(listen, heard, "heard", "heard", FIELD_RECORDS, .shape = &shape_mark),
      ROW(listen, basis, "basis", "rests on", FIELD_TEXT, .high = 0));

SHAPE(booth, "a venue",
      ROW(booth, venue, "venue", "venue", FIELD_RECORD, MUST, PAPER, .shape = &shape_venue),
      ROW(booth, host, "host", "host", FIELD_RECORD, MUST, .shape = &shape_host),
      ROW(booth, devices, "devices", "devices", FIELD_RECORDS, MUST, .shape = &shape_device),
      ROW(booth, hubs, "hubs", "hubs", FIELD_RECORDS, .shape = &shape_hub),
      ROW(booth, cables, "cables", "cables", FIELD_RECORDS, .shape = &shape_cable),
      ROW(booth, joined, "joined", "in the interface", FIELD_REFS, .high = 0),
      ROW(booth, decks, "decks", "host decks", FIELD_RECORDS, PAPER, .shape = &shape_deck),
      ROW(booth, found, "found", "as found", FIELD_OPTION, PAPER, .shape = &shape_found),
      ROW(booth, checklist, "checklist", "checklist", FIELD_MAP, PAPER, .high = 0),
      ROW(booth, step_notes, "step_notes", "notes on steps", FIELD_MAP, PAPER, .high = 0),
      ROW(booth, line_check, "line_check", "line check", FIELD_RECORDS, PAPER,
          .shape = &shape_listen));

const struct field *shape_field(const struct shape *s, const char *key)
{
    for (size_t i = 0; i < s->n; i++)
        if (strcmp(s->fields[i].key, key) == 0)
            return &s->fields[i];
    return NULL;
}

bool field_required(const struct shape *s, const struct field *f, const void *record)
{
    if (s == &shape_device && strcmp(f->key, "strips") == 0)
        return ((const struct device *)record)->kind == KIND_MIXER;
    return f->required;
}

/* --- a pointer and a count -------------------------------------------------------------------- */

struct list {
    void *v;
    size_t n;
};

static struct list list_get(const void *value)
{
    struct list l;
    memcpy(&l.v, value, sizeof l.v);
    memcpy(&l.n, (const char *)value + sizeof l.v, sizeof l.n);
    return l;
}

static void list_set(void *value, struct list l)
{
    memcpy(value, &l.v, sizeof l.v);
    memcpy((char *)value + sizeof l.v, &l.n, sizeof l.n);
}

/* Room for one more item at a place of a list of plain items. */
static void *list_open(void *value, size_t at, size_t size)
{
    struct list l = list_get(value);
    assert(at <= l.n);
    char *v = mem_new(l.n + 1, size);
    if (l.n) {
        memcpy(v, l.v, at * size);
        memcpy(v + (at + 1) * size, (char *)l.v + at * size, (l.n - at) * size);
    }
    mem_free(l.v);
    list_set(value, (struct list){v, l.n + 1});
    return v + at * size;
}

void ints_add(struct ints *l, int value)
{
    *(int *)list_open(l, l->n, sizeof value) = value;
}

void texts_insert(struct texts *l, size_t at, const char *text)
{
    *(char **)list_open(l, at, sizeof text) = mem_text(text);
}

void texts_add(struct texts *l, const char *text)
{
    texts_insert(l, l->n, text);
}

void texts_remove(struct texts *l, size_t at)
{
    assert(at < l->n);
    mem_free(l->v[at]);
    memmove(&l->v[at], &l->v[at + 1], (l->n - at - 1) * sizeof *l->v);
    l->n--;
}

void texts_clear(struct texts *l)
{
    for (size_t i = 0; i < l->n; i++)
        mem_free(l->v[i]);
    mem_free(l->v);
    *l = (struct texts){0};
}

int texts_find(const struct texts *l, const char *text)
{
    for (size_t i = 0; i < l->n; i++)
        if (strcmp(l->v[i], text) == 0)
            return (int)i;
    return -1;
}

static struct entry *map_slot(const struct map *m, const char *key)
{
    for (size_t i = 0; i < m->n; i++)
        if (strcmp(m->v[i].key, key) == 0)
            return &m->v[i];
    return NULL;
}

const struct entry *map_find(const struct map *m, const char *key)
{
    return map_slot(m, key);
}

void map_set(struct map *m, const char *key, const char *value)
{
    struct entry *e = map_slot(m, key);
    if (!e) {
        e = list_open(m, m->n, sizeof *e);
        e->key = mem_text(key);
    }
    mem_free(e->value);
    e->value = mem_text(value);
}

void map_remove(struct map *m, const char *key)
{
    struct entry *e = map_slot(m, key);
    if (!e)
        return;
    mem_free(e->key);
    mem_free(e->value);
    memmove(e, e + 1, (size_t)(m->v + m->n - e - 1) * sizeof *e);
    m->n--;
}

void text_set(char **field, const char *text)
{
    char *copy = text && *text ? mem_text(text) : NULL;
    mem_free(*field);
    *field = copy;
}

/* --- values ----------------------------------------------------------------------------------- */

static_assert(sizeof(enum level) == sizeof(int), "words are kept as ints");

void *field_in(const struct field *f, void *record)
{
    return (char *)record + f->offset;
}

const void *field_of(const struct field *f, const void *record)
{
    return (const char *)record + f->offset;
}

size_t field_size(const struct field *f)
{
    switch (f->kind) {
    case FIELD_TEXT:
    case FIELD_OPTION:
        return sizeof(void *);
    case FIELD_ID:
        return ID_SIZE;
    case FIELD_REF:
        return REF_SIZE;
    case FIELD_PLUG:
        return sizeof(struct plug);
    case FIELD_WORD:
    case FIELD_INT:
    case FIELD_MILLI:
        return sizeof(int);
    case FIELD_BOOL:
        return sizeof(bool);
    case FIELD_PAIR:
        return sizeof(struct pair);
    case FIELD_RECORD:
        return f->shape->size;
    default:
        return sizeof(void *) + sizeof(size_t);
    }
}

static void *get_pointer(const void *value)
{
    void *p;
    memcpy(&p, value, sizeof p);
    return p;
}

static void set_pointer(void *value, void *p)
{
    memcpy(value, &p, sizeof p);
}

size_t records_count(const void *list)
{
    return list_get(list).n;
}

void *records_at(const struct field *f, const void *list, size_t i)
{
    struct list l = list_get(list);
    assert(i < l.n);
    return (char *)l.v + i * f->shape->size;
}

void records_splice(const struct field *f, void *list, size_t at, size_t out, const void *in,
                    size_t count)
{
    struct list l = list_get(list);
    size_t size = f->shape->size, rest = l.n - at - out, n = l.n - out + count;
    assert(at + out <= l.n);
    char *v = n ? mem_new(n, size) : NULL, *from = l.v;
    for (size_t i = 0; i < count; i++)
        record_copy(f->shape, v + (at + i) * size, (const char *)in + i * size);
    for (size_t i = 0; i < out; i++)
        record_clear(f->shape, from + (at + i) * size);
    if (at)
        memcpy(v, from, at * size);
    if (rest)
        memcpy(v + (at + count) * size, from + (at + out) * size, rest * size);
    mem_free(from);
    list_set(list, (struct list){v, n});
}

void *records_add(const struct field *f, void *list)
{
    struct list l = list_get(list);
    char *v = mem_new(l.n + 1, f->shape->size);
    if (l.n)
        memcpy(v, l.v, l.n * f->shape->size);
    mem_free(l.v);
    list_set(list, (struct list){v, l.n + 1});
    record_init(f->shape, v + l.n * f->shape->size);
    return v + l.n * f->shape->size;
}

static void copy_list(const struct field *f, void *to, const void *from)
{
    struct list l = list_get(from);
    list_set(to, (struct list){NULL, 0});
    if (f->kind == FIELD_RECORDS) {
        records_splice(f, to, 0, 0, l.v, l.n);
    } else if (f->kind == FIELD_MAP) {
        const struct map *m = from;
        for (size_t i = 0; i < m->n; i++)
            map_set(to, m->v[i].key, m->v[i].value);
    } else if (f->kind == FIELD_TEXTS || f->kind == FIELD_REFS) {
        const struct texts *t = from;
        for (size_t i = 0; i < t->n; i++)
            texts_add(to, t->v[i]);
    } else {
        const struct ints *n = from;
        for (size_t i = 0; i < n->n; i++)
            ints_add(to, n->v[i]);
    }
}

void field_copy(const struct field *f, void *to, const void *from)
{
    if (f->kind == FIELD_TEXT) {
        set_pointer(to, mem_text(get_pointer(from)));
    } else if (f->kind == FIELD_OPTION) {
        void *old = get_pointer(from), *copy = old ? mem_new(1, f->shape->size) : NULL;
        if (copy)
            record_copy(f->shape, copy, old);
        set_pointer(to, copy);
    } else if (f->kind == FIELD_RECORD) {
        record_copy(f->shape, to, from);
    } else if (f->kind <= FIELD_PAIR) {
        memcpy(to, from, field_size(f));
    } else {
        copy_list(f, to, from);
    }
}

/* What absence means, into memory that owns nothing. */
static void set_default(const struct field *f, void *value)
{
    memset(value, 0, field_size(f));
    if (f->kind == FIELD_INT || f->kind == FIELD_WORD || f->kind == FIELD_MILLI)
        memcpy(value, &f->fallback, sizeof f->fallback);
    else if (f->kind == FIELD_BOOL)
        *(bool *)value = f->fallback != 0;
    else if (f->kind == FIELD_PAIR)
        *(struct pair *)value = (struct pair){-1, -1};
    else if (f->kind == FIELD_RECORD)
        record_init(f->shape, value);
}

void field_clear(const struct field *f, void *value)
{
    if (f->kind == FIELD_TEXT) {
        mem_free(get_pointer(value));
    } else if (f->kind == FIELD_OPTION) {
        void *record = get_pointer(value);
        if (record)
            record_clear(f->shape, record);
        mem_free(record);
    } else if (f->kind == FIELD_RECORD) {
        record_clear(f->shape, value);
    } else if (f->kind == FIELD_MAP) {
        struct map *m = value;
        while (m->n)
            map_remove(m, m->v[m->n - 1].key);
        mem_free(m->v);
    } else if (f->kind > FIELD_PAIR) {
        struct list l = list_get(value);
        for (size_t i = 0; i < l.n && f->kind == FIELD_RECORDS; i++)
            record_clear(f->shape, (char *)l.v + i * f->shape->size);
        for (size_t i = 0; i < l.n && (f->kind == FIELD_TEXTS || f->kind == FIELD_REFS); i++)
            mem_free(((char **)l.v)[i]);
        mem_free(l.v);
    }
    set_default(f, value);
}

static bool same_text(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

static bool equal_list(const struct field *f, const void *a, const void *b)
{
    struct list x = list_get(a), y = list_get(b);
    if (x.n != y.n)
        return false;
    for (size_t i = 0; i < x.n; i++) {
        bool same;
        if (f->kind == FIELD_RECORDS)
            same = record_equal(f->shape, records_at(f, a, i), records_at(f, b, i));
        else if (f->kind == FIELD_MAP)
            same = same_text(((struct entry *)x.v)[i].key, ((struct entry *)y.v)[i].key) &&
                   same_text(((struct entry *)x.v)[i].value, ((struct entry *)y.v)[i].value);
        else if (f->kind == FIELD_TEXTS || f->kind == FIELD_REFS)
            same = same_text(((char **)x.v)[i], ((char **)y.v)[i]);
        else
            same = ((int *)x.v)[i] == ((int *)y.v)[i];
        if (!same)
            return false;
    }
    return true;
}

bool field_equal(const struct field *f, const void *a, const void *b)
{
    switch (f->kind) {
    case FIELD_TEXT:
        return same_text(get_pointer(a), get_pointer(b));
    case FIELD_ID:
    case FIELD_REF:
        return strcmp(a, b) == 0;
    case FIELD_PLUG:
        return strcmp(((const struct plug *)a)->at, ((const struct plug *)b)->at) == 0 &&
               ((const struct plug *)a)->port == ((const struct plug *)b)->port;
    case FIELD_OPTION: {
        const void *x = get_pointer(a), *y = get_pointer(b);
        return x && y ? record_equal(f->shape, x, y) : x == y;
    }
    case FIELD_RECORD:
        return record_equal(f->shape, a, b);
    default:
        return f->kind <= FIELD_PAIR ? memcmp(a, b, field_size(f)) == 0 : equal_list(f, a, b);
    }
}

bool field_is_default(const struct field *f, const void *value)
{
    if (f->kind == FIELD_RECORD)
        return false;
    if (f->kind > FIELD_PAIR && f->kind != FIELD_OPTION)
        return list_get(value).n == 0;
    struct deck room; /* the largest of the plain values fits */
    set_default(f, &room);
    return field_equal(f, value, &room);
}

/* --- records ---------------------------------------------------------------------------------- */

void record_init(const struct shape *s, void *record)
{
    memset(record, 0, s->size);
    for (size_t i = 0; i < s->n; i++)
        set_default(&s->fields[i], field_in(&s->fields[i], record));
}

void record_copy(const struct shape *s, void *record, const void *from)
{
    memset(record, 0, s->size);
    const struct kept *old = from;
    struct kept *kept = record;
    kept->seen = old->seen;
    kept->json = mem_text(old->json);
    for (size_t i = 0; i < s->n; i++)
        field_copy(&s->fields[i], field_in(&s->fields[i], record), field_of(&s->fields[i], from));
}

void record_clear(const struct shape *s, void *record)
{
    struct kept *kept = record;
    mem_free(kept->json);
    *kept = (struct kept){0};
    for (size_t i = 0; i < s->n; i++)
        field_clear(&s->fields[i], field_in(&s->fields[i], record));
}

bool record_equal(const struct shape *s, const void *a, const void *b)
{
    const struct kept *x = a, *y = b;
    if (!same_text(x->json, y->json))
        return false;
    for (size_t i = 0; i < s->n; i++) {
        const struct field *f = &s->fields[i];
        if (!field_equal(f, field_of(f, a), field_of(f, b)))
            return false;
        if ((x->seen ^ y->seen) >> i & 1 && field_is_default(f, field_of(f, a)))
            return false;
    }
    return true;
}
