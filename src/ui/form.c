/* The rows of a form are found by walking the shape of the thing; nothing here knows any field by
 * name but the references, whose choices are what the booth has. */
#include "ui/form.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "model/say.h"
#include "model/sound.h"
#include "ui/fieldtext.h"

/* --- rows ------------------------------------------------------------------------------------- */

static void add_row(struct form *f, const char *heading, const struct field *field, void *record)
{
    f->rows = mem_grow(f->rows, &f->cap, f->n + 1, sizeof *f->rows);
    f->rows[f->n++] = (struct form_row){heading, field, record};
}

static void add_rows(struct form *f, const char *heading, const struct shape *s, void *record)
{
    for (size_t i = 0; i < s->n; i++) {
        const struct field *field = &s->fields[i];
        void *value = field_in(field, record), *inner = NULL;
        if (field->kind == FIELD_ID || field->kind == FIELD_MAP ||
            (field->kind == FIELD_RECORDS && field->shape == &shape_strip))
            continue;
        add_row(f, heading, field, record);
        heading = NULL;
        if (field->kind == FIELD_OPTION)
            memcpy(&inner, value, sizeof inner);
        if (inner)
            add_rows(f, field->title, field->shape, inner);
        for (size_t k = 0; field->kind == FIELD_RECORDS && k < records_count(value); k++) {
            void *item = records_at(field, value, k);
            const struct field *id = shape_field(field->shape, "id");
            add_rows(f, id ? field_of(id, item) : field->title, field->shape, item);
        }
    }
}

/* The record of a thing in the form's own booth. The casts take const off what is ours. */
static bool find_record(struct booth *b, const char *thing, const struct shape **shape,
                        void **record)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    struct {
        const struct shape *shape;
        const void *record;
    } found[] = {{&shape_device, booth_device(b, thing)},
                 {&shape_strip, booth_strip(b, thing, NULL)},
                 {&shape_deck, booth_deck(b, thing)},
                 {&shape_hub, booth_hub(b, thing)},
                 {&shape_venue, strcmp(thing, "venue") == 0 ? &b->venue : NULL},
                 {&shape_host, strcmp(thing, "host") == 0 ? &b->host : NULL}};
    struct out_end out;
    struct in_end in;
    if (ref_split(thing, owner, jack)) {
        bool output = booth_output(b, thing, &out), input = booth_input(b, thing, &in);
        found[0].shape = output ? &shape_output : &shape_input;
        found[0].record = output ? (const void *)out.output : input ? (const void *)in.input : NULL;
    }
    for (size_t i = 0; i < sizeof found / sizeof *found; i++) {
        if (!found[i].record)
            continue;
        *shape = found[i].shape;
        memcpy(record, &found[i].record, sizeof *record);
        return true;
    }
    return false;
}

static bool build(struct form *f)
{
    const struct shape *shape;
    void *record;
    f->n = 0;
    if (!find_record(f->booth, f->thing, &shape, &record))
        return false;
    add_rows(f, NULL, shape, record);
    if (f->cursor >= (int)f->n)
        f->cursor = (int)f->n - 1;
    return true;
}

struct form *form_new(const struct booth *b, const char *thing)
{
    struct form *f = mem_new(1, sizeof *f);
    f->booth = booth_copy(b);
    snprintf(f->thing, sizeof f->thing, "%s", thing);
    if (!build(f)) {
        form_free(f);
        return NULL;
    }
    f->title = mem_text(strcmp(thing, "venue") == 0 ? "venue" : booth_label(b, thing));
    return f;
}

void form_free(struct form *f)
{
    if (!f)
        return;
    prompt_clear(&f->prompt);
    mem_free(f->complaint);
    mem_free(f->rows);
    mem_free(f->title);
    booth_free(f->booth);
    mem_free(f);
}

void form_follow(struct form *f, const struct booth *b)
{
    booth_free(f->booth);
    f->booth = booth_copy(b);
    build(f);
}

/* --- values ----------------------------------------------------------------------------------- */

static int counting(const struct form *f)
{
    return f->booth->host.channel_names == NAMES_FROM_0 ? 0 : 1;
}

static struct form_row *here(struct form *f)
{
    return &f->rows[f->cursor];
}

/* After a change: keeps it when the booth is sound, else puts the booth back and says why. */
static void settle(struct form *f, struct booth *before)
{
    struct err e;
    mem_free(f->complaint);
    f->complaint = NULL;
    if (booth_sound(f->booth, &e)) {
        booth_free(before);
    } else {
        booth_free(f->booth);
        f->booth = before;
        struct str why = {0};
        str_addf(&why, "%s: %s", e.place, e.says);
        f->complaint = str_take(&why);
    }
    build(f);
}

/* Everything in the booth that a reference may name; "" where it may be empty. */
static void choices(const struct form *f, const struct form_row *row, struct texts *out)
{
    const struct booth *b = f->booth;
    const char *key = row->field->key;
    if (!row->field->required)
        texts_add(out, "");
    if (strcmp(key, "selected") == 0) {
        const struct strip *s = row->record;
        for (size_t i = 0; i < s->inputs.n; i++)
            texts_add(out, s->inputs.v[i].id);
    }
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        if (strcmp(key, "controlled_by") == 0 && d->kind != KIND_MIXER && d->kind != KIND_INTERFACE)
            texts_add(out, d->id);
        for (size_t k = 0; k < d->strips.n && strcmp(key, "wants") == 0; k++)
            texts_add(out, d->strips.v[k].id);
    }
}

static void turn_reference(struct form *f, struct form_row *row, int step)
{
    struct texts all = {0};
    char *value = field_in(row->field, row->record);
    choices(f, row, &all);
    int n = (int)all.n, at = texts_find(&all, value);
    if (n)
        snprintf(value, REF_SIZE, "%s", all.v[(at + step + n) % n]);
    texts_clear(&all);
}

static void turn_option(const struct field *field, void *record)
{
    void *value = field_in(field, record), *inner;
    memcpy(&inner, value, sizeof inner);
    if (inner) {
        field_clear(field, value);
        return;
    }
    inner = mem_new(1, field->shape->size);
    record_init(field->shape, inner);
    if (field->shape == &shape_card)
        ((struct card *)inner)->out_channels = 2;
    memcpy(value, &inner, sizeof inner);
}

/* A fresh jack like its neighbour, with an id of its own. */
static void add_item(const struct field *field, void *list)
{
    size_t n = records_count(list);
    void *fresh = mem_new(1, field->shape->size);
    if (n)
        record_copy(field->shape, fresh, records_at(field, list, n - 1));
    else
        record_init(field->shape, fresh);
    const struct field *id = shape_field(field->shape, "id");
    const struct field *level = shape_field(field->shape, "level");
    if (id)
        snprintf(field_in(id, fresh), ID_SIZE, "%s%zu", "jack", n + 1);
    if (level && !n) {
        *(int *)field_in(level, fresh) = LEVEL_LINE;
        struct ints *channels = field_in(shape_field(field->shape, "channels"), fresh);
        ints_add(channels, 1);
        ints_add(channels, 2);
    }
    records_splice(field, list, n, 0, fresh, 1);
    record_clear(field->shape, fresh);
    mem_free(fresh);
}

static void resize_list(const struct field *field, void *list, int step)
{
    size_t n = records_count(list);
    if (step > 0)
        add_item(field, list);
    else if (n)
        records_splice(field, list, n - 1, 1, NULL, 0);
}

static void turn(struct form *f, int step)
{
    struct form_row *row = here(f);
    struct booth *before = booth_copy(f->booth);
    if (fieldtext_is_choice(row->field))
        fieldtext_turn(row->field, field_in(row->field, row->record), step);
    else if (row->field->kind == FIELD_REF)
        turn_reference(f, row, step);
    else if (row->field->kind == FIELD_OPTION)
        turn_option(row->field, row->record);
    else if (row->field->kind == FIELD_RECORDS)
        resize_list(row->field, field_in(row->field, row->record), step);
    settle(f, before);
}

static void start_typing(struct form *f, const char *text)
{
    struct form_row *row = here(f);
    struct str now = {0};
    if (!text)
        say_value(row->field, field_of(row->field, row->record), counting(f), &now);
    size_t most = row->field->kind == FIELD_TEXT ? (size_t)row->field->high : 0;
    prompt_start(&f->prompt, text ? text : str_text(&now), most);
    str_clear(&now);
    f->typing = true;
}

static void end_typing(struct form *f)
{
    struct form_row *row = here(f);
    struct booth *before = booth_copy(f->booth);
    struct err e;
    if (fieldtext_read(row->field, field_in(row->field, row->record), counting(f),
                       str_text(&f->prompt.text), &e)) {
        f->typing = false;
        settle(f, before);
        if (!f->complaint)
            return;
        f->typing = true; /* what was typed stays, to be mended */
        return;
    }
    booth_free(before);
    mem_free(f->complaint);
    struct str why = {0};
    str_addf(&why, "%s: %s", e.place, e.says);
    f->complaint = str_take(&why);
}

/* --- events ----------------------------------------------------------------------------------- */

static void change_here(struct form *f)
{
    if (fieldtext_is_typed(here(f)->field))
        start_typing(f, NULL);
    else
        turn(f, 1);
}

static bool browse_key(struct form *f, int key)
{
    const struct field *field = here(f)->field;
    bool typed = fieldtext_is_typed(field);
    if (key == K_ESC)
        return false;
    if (key == K_UP && f->cursor > 0)
        f->cursor--;
    else if (key == K_DOWN && f->cursor + 1 < (int)f->n)
        f->cursor++;
    else if (key == K_HOME)
        f->cursor = 0;
    else if (key == K_END)
        f->cursor = (int)f->n - 1;
    else if (key == K_ENTER)
        change_here(f);
    else if (!typed && (key == K_RIGHT || key == ' ' || key == '+'))
        turn(f, 1);
    else if (!typed && (key == K_LEFT || key == '-'))
        turn(f, -1);
    else if (typed && key > ' ' && key < 0x110000 && key != K_BACKSPACE) {
        start_typing(f, "");
        prompt_event(&f->prompt, &(struct event){.kind = EVENT_KEY, .key = key});
    }
    return true;
}

bool form_event(struct form *f, const struct event *ev)
{
    assert(f->n > 0);
    if (!f->typing)
        return ev->kind != EVENT_KEY || browse_key(f, ev->key);
    switch (prompt_event(&f->prompt, ev)) {
    case PROMPT_DONE:
        end_typing(f);
        break;
    case PROMPT_CANCELLED:
        f->typing = false;
        mem_free(f->complaint);
        f->complaint = NULL;
        break;
    default:
        break;
    }
    return true;
}

void form_click(struct form *f, int row)
{
    if (f->typing || row < 0 || row >= (int)f->n)
        return;
    if (row == f->cursor)
        change_here(f);
    f->cursor = row < (int)f->n ? row : f->cursor;
}

/* --- showing ---------------------------------------------------------------------------------- */

static void show_value(const struct form *f, const struct form_row *row, struct str *out)
{
    const void *value = field_of(row->field, row->record);
    void *inner = NULL;
    switch (row->field->kind) {
    case FIELD_OPTION:
        memcpy(&inner, value, sizeof inner);
        str_add(out, inner ? "yes" : "no");
        break;
    case FIELD_RECORDS:
        str_addf(out, "%zu  (+ -)", records_count(value));
        break;
    case FIELD_REF:
        if (strcmp(row->field->key, "selected") == 0)
            str_add(out, value);
        else if (*(const char *)value)
            str_add(out, booth_label(f->booth, value));
        break;
    default:
        say_value(row->field, value, counting(f), out);
    }
    if (out->len == 0)
        str_addc(out, '-');
}

void form_lines(const struct form *f, struct lines *out)
{
    for (size_t i = 0; i < f->n; i++) {
        const struct form_row *row = &f->rows[i];
        struct str value = {0};
        if (row->heading)
            lines_add(out, -1, LOOK_TITLE, 0, row->heading);
        bool typing = f->typing && (int)i == f->cursor;
        if (typing) {
            str_addn(&value, str_text(&f->prompt.text), f->prompt.at);
            str_addc(&value, '_');
            str_add(&value, str_text(&f->prompt.text) + f->prompt.at);
        } else {
            show_value(f, row, &value);
        }
        lines_addf(out, (int)i, typing ? LOOK_STRONG : LOOK_PLAIN, 4, "%s: %s", row->field->title,
                   str_text(&value));
        if (f->complaint && (int)i == f->cursor)
            lines_addf(out, (int)i, LOOK_ERROR, 4, "! %s", f->complaint);
        str_clear(&value);
    }
}
