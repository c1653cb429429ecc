/* Jacks and their names: a name may be cut to its first letters, never below one (and the number
 * at its end), and every jack stands on the border in the middle of its name. */
#include "ui/canvas_parts.h"

#include <assert.h>
#include <string.h>

#include "base/mem.h"

int canvas_name_least(const char *name)
{
    size_t n = strlen(name);
    return n > 1 && name[n - 1] >= '0' && name[n - 1] <= '9' ? 2 : 1;
}

void canvas_name_short(const char *name, int w, struct str *out)
{
    size_t n = strlen(name), room = (size_t)w;
    if (n <= room) {
        str_add(out, name);
    } else if (room >= 2 && canvas_name_least(name) == 2) {
        str_addn(out, name, room - 1);
        str_addc(out, name[n - 1]);
    } else {
        str_addn(out, name, room);
    }
}

/* Whether two names differ in nothing but the digit at their end: "out1", "out2". */
static bool same_stem(const char *a, const char *b)
{
    size_t n = strlen(a);
    return canvas_name_least(a) == 2 && canvas_name_least(b) == 2 && strlen(b) == n &&
           memcmp(a, b, n - 1) == 0;
}

/* How wide a name is that is cut once more: to three letters at first, as people do, then by one;
 * three letters and a digit to the first and the digit ("out2": "o2", never "ou2"). */
static int width_cut(const char *name, int width, int least)
{
    enum { BRIEF = 3 };
    bool numbered = least == 2 && canvas_name_least(name) == 2;
    if (numbered && width == BRIEF + 1)
        return least;
    return width > BRIEF ? BRIEF : width - 1;
}

/* Cuts the widest name that can be cut, and with it all of the same stem, so that they stay alike.
 * hard: the number at its end may go too. Returns the columns won; 0: nothing more can be cut. */
static int cut_widest(const char *const *names, size_t n, int *widths, bool hard)
{
    size_t widest = n;
    for (size_t i = 0; i < n; i++)
        if (widths[i] > (hard ? 1 : canvas_name_least(names[i])) &&
            (widest == n || widths[i] >= widths[widest]))
            widest = i;
    if (widest == n)
        return 0;
    int before = widths[widest], won = 0;
    int after = width_cut(names[widest], before, hard ? 1 : canvas_name_least(names[widest]));
    for (size_t i = 0; i < n; i++)
        if (i == widest || (widths[i] == before && same_stem(names[i], names[widest]))) {
            widths[i] = after;
            won += before - after;
        }
    return won;
}

/* How wide each of n names in a row may be drawn, so that they fit into room columns with one
 * column between them; at least one each. Returns what they take. */
static int names_fit(const char *const *names, size_t n, int room, int *widths)
{
    int used = n ? (int)n - 1 : 0;
    for (size_t i = 0; i < n; i++) {
        widths[i] = (int)strlen(names[i]);
        used += widths[i];
    }
    while (used > room) {
        int won = cut_widest(names, n, widths, false);
        won = won ? won : cut_widest(names, n, widths, true);
        if (!won)
            break;
        used -= won;
    }
    return used;
}

/* Lays n jacks side by side into room columns from x on. */
static void lay_jacks(struct jack **jacks, const char *const *names, size_t n, int x, int room)
{
    int *widths = mem_new(n, sizeof *widths);
    int slack = room - names_fit(names, n, room, widths);
    slack = slack < 0 ? 0 : slack;
    int at = x + (n ? slack / (2 * (int)n) : 0);
    for (size_t i = 0; i < n; i++) {
        jacks[i]->name_x = at;
        jacks[i]->name_w = widths[i];
        jacks[i]->x = at + (widths[i] - 1) / 2;
        at += widths[i] + 1 + slack / (int)n;
    }
    mem_free(widths);
}

int canvas_device_output(const struct canvas *c, int device)
{
    int n = 0;
    for (int i = 0; i < device; i++)
        n += (int)c->b->devices.v[i].outputs.n;
    return n;
}

int canvas_device_input(const struct canvas *c, int device)
{
    int n = 0;
    for (int i = 0; i < device; i++) {
        const struct device *d = &c->b->devices.v[i];
        n += (int)d->inputs.n;
        for (size_t k = 0; k < d->strips.n; k++)
            n += (int)d->strips.v[k].inputs.n;
    }
    return n;
}

int canvas_strip_input(const struct canvas *c, int strip)
{
    int mixer = c->c->strips[strip].mixer;
    const struct device *d = circuit_device(c->c, mixer);
    const struct strip *s = circuit_strip(c->c, strip);
    int n = canvas_device_input(c, mixer) + (int)d->inputs.n;
    for (const struct strip *k = d->strips.v; k < s; k++)
        n += (int)k->inputs.n;
    return n;
}

struct jack *canvas_input(const struct canvas *c, int input)
{
    assert(input >= 0 && (size_t)input < c->c->n_inputs);
    return &c->jacks[input];
}

struct jack *canvas_output(const struct canvas *c, int output)
{
    assert(output >= 0 && (size_t)output < c->c->n_outputs);
    return &c->jacks[c->c->n_inputs + (size_t)output];
}

void canvas_name_jacks(struct canvas *c)
{
    for (int i = 0; i < (int)c->c->n_inputs; i++) {
        const struct circuit_input *in = &c->c->inputs[i];
        struct jack *j = canvas_input(c, i);
        j->spot.kind = SPOT_INPUT;
        circuit_input_name(c->c, i, j->spot.name);
        j->selected = in->strip >= 0 && c->c->strips[in->strip].selected == i;
        j->cabled = in->ours && c->c->devices[in->device].joined >= 0;
    }
    for (int i = 0; i < (int)c->c->n_outputs; i++) {
        canvas_output(c, i)->spot.kind = SPOT_OUTPUT;
        circuit_output_name(c->c, i, canvas_output(c, i)->spot.name);
    }
    for (size_t i = 0; i < c->c->n_cables; i++) {
        canvas_output(c, c->c->cables[i].output)->cabled = true;
        canvas_input(c, c->c->cables[i].input)->cabled = true;
    }
}

/* The jacks of a device, inputs left of outputs, and their names. Free both. */
static size_t device_jacks(const struct canvas *c, int device, struct jack ***jacks,
                           const char ***names)
{
    const struct device *d = circuit_device(c->c, device);
    size_t n = d->inputs.n + d->outputs.n;
    int in = canvas_device_input(c, device), out = canvas_device_output(c, device);
    *jacks = mem_new(n, sizeof(struct jack *));
    *names = mem_new(n, sizeof(char *));
    for (size_t i = 0; i < n; i++) {
        bool input = i < d->inputs.n;
        size_t k = input ? i : i - d->inputs.n;
        (*jacks)[i] = input ? canvas_input(c, in + (int)k) : canvas_output(c, out + (int)k);
        (*names)[i] = input ? d->inputs.v[k].id : d->outputs.v[k].id;
    }
    return n;
}

void canvas_lay_device(struct canvas *c, int device, int width)
{
    struct jack **jacks;
    const char **names;
    size_t n = device_jacks(c, device, &jacks, &names);
    lay_jacks(jacks, names, n, 1, width - 2);
    mem_free(jacks);
    mem_free(names);
}

/* The column of the strip's input that an output is wired to, or its own. */
static int aim_of(const struct canvas *c, const struct jack *j, int *weight)
{
    *weight = 1;
    for (size_t i = 0; i < c->c->n_cables; i++) {
        const struct circuit_cable *k = &c->c->cables[i];
        if (canvas_output(c, k->output) != j || c->c->inputs[k->input].strip < 0)
            continue;
        *weight = FIRM;
        return canvas_input(c, k->input)->x;
    }
    return j->x;
}

void canvas_aim_jacks(struct canvas *c, int device, struct rect at)
{
    struct jack **jacks;
    const char **names;
    size_t n = device_jacks(c, device, &jacks, &names);
    struct spread *s = mem_new(n, sizeof *s);
    for (size_t i = 0; i < n; i++) {
        s[i] = (struct spread){.width = jacks[i]->name_w, .gap = 1};
        s[i].want = aim_of(c, jacks[i], &s[i].weight) - (s[i].width - 1) / 2;
    }
    spread_out(s, n, at.x + 1, at.x + at.w - 1);
    for (size_t i = 0; i < n; i++) {
        jacks[i]->x += s[i].x - jacks[i]->name_x;
        jacks[i]->name_x = s[i].x;
    }
    mem_free(s);
    mem_free(jacks);
    mem_free(names);
}

void canvas_shift_jacks(struct canvas *c, int device, int by)
{
    struct jack **jacks;
    const char **names;
    size_t n = device_jacks(c, device, &jacks, &names);
    for (size_t i = 0; i < n; i++) {
        jacks[i]->x += by;
        jacks[i]->name_x += by;
    }
    mem_free(jacks);
    mem_free(names);
}

void canvas_lay_strip(struct canvas *c, int strip, int x)
{
    const struct strip *s = circuit_strip(c->c, strip);
    int first = canvas_strip_input(c, strip);
    struct jack **jacks = mem_new(s->inputs.n, sizeof(struct jack *));
    const char **names = mem_new(s->inputs.n, sizeof(char *));
    for (size_t i = 0; i < s->inputs.n; i++) {
        jacks[i] = canvas_input(c, first + (int)i);
        names[i] = s->inputs.v[i].id;
    }
    lay_jacks(jacks, names, s->inputs.n, x + 2, c->strip_w - 2);
    mem_free(jacks);
    mem_free(names);
}
