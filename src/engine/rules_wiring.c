/* Cables: levels that do not fit, ends that are doubled, sides that get lost.
 *
 * A suggestion never pulls or moves a plug that somebody else's sound depends on; what is held in
 * use stays, and the others give way. */
#include <stdlib.h>
#include <string.h>

#include "engine/levels.h"
#include "engine/rules.h"
#include "model/say.h"

/* A finding about a cable, "the cable from P1's line to strip 1's line " and the rest; its ends
 * are the subjects. */
static struct fault *cable_fault(struct report *r, const struct cable *cable, const char *rest)
{
    struct str text = {0};
    str_add(&text, "the cable from ");
    say_jack(r->b, cable->from, &text);
    str_add(&text, " to ");
    say_jack(r->b, cable->to, &text);
    str_add(&text, rest);
    struct fault *f = report_fault(r, &text);
    fault_on(f, cable->from);
    fault_on(f, cable->to);
    return f;
}

/* --- levels ----------------------------------------------------------------------------------- */

/* Appends what is wrong with feeding this level into that input. */
static void say_mismatch(enum level out, enum level in, struct str *text)
{
    int margin;
    if (!levels_margin(out, in, &margin)) {
        str_add(text, out == LEVEL_DIGITAL
                          ? " takes digital into an analogue input: nothing passes"
                          : " takes an analogue output into a digital input: nothing passes");
        return;
    }
    int tenths = (abs(margin) + 5) / 10;
    bool loud = levels_fit(out, in) == LEVELS_TOO_LOUD;
    str_addf(text, " takes %s into a %s input: %d.%d dB too %s", word_file(&words_level, (int)out),
             word_file(&words_level, (int)in), tenths / 10, tenths % 10, loud ? "loud" : "quiet");
}

/* Turns the switch of the cable's input, if it has one for this level. */
static bool fix_by_switch(const struct circuit *c, struct fault *f, int cable)
{
    enum level level = output_record(c, c->cables[cable].output)->level;
    if (!input_could_take(input_record(c, c->cables[cable].input), level))
        return false;
    struct change turn = change_of(CHANGE_SWITCH, c->booth->cables.v[cable].to, "");
    turn.number = (int)level;
    fault_fix(f, turn);
    return true;
}

/* After a cable has moved to another input of its strip: the selector follows, if it stood on what
 * that cable alone fed, and so do the settings. */
static void follow_cable(const struct circuit *c, struct fault *f, int cable, int to)
{
    int from = c->cables[cable].input, strip = c->inputs[from].strip;
    struct circuit *after = circuit_copy(c);
    after->cables[cable].input = to;
    if (strip >= 0 && c->strips[strip].selected == from && input_cables(c, from) == 1) {
        after->strips[strip].selected = to;
        fault_fix(f,
                  change_of(CHANGE_SELECT, circuit_strip(c, strip)->id, input_record(c, to)->id));
    }
    fix_settings(f, c, after);
    circuit_free(after);
}

/* Moves the cable to a free input of the same owner that fits as it stands. */
static bool fix_by_other_input(const struct circuit *c, struct fault *f, int cable)
{
    int from = c->cables[cable].input, strip = c->inputs[from].strip;
    enum level level = output_record(c, c->cables[cable].output)->level;
    for (size_t i = 0; i < c->n_inputs; i++) {
        const struct input *in = input_record(c, (int)i);
        if (c->inputs[i].device != c->inputs[from].device || c->inputs[i].strip != strip ||
            in->level != level || input_cables(c, (int)i))
            continue;
        struct change move = change_of(CHANGE_CABLE_MOVE, c->booth->cables.v[cable].from,
                                       c->booth->cables.v[cable].to);
        circuit_input_name(c, (int)i, move.c);
        fault_fix(f, move);
        follow_cable(c, f, cable, (int)i);
        return true;
    }
    return false;
}

/* Takes the cable from a free output of the same device that carries the same and fits. */
static bool fix_by_other_output(const struct circuit *c, struct fault *f, int cable)
{
    const struct circuit_output *from = &c->outputs[c->cables[cable].output];
    enum level level = input_record(c, c->cables[cable].input)->level;
    for (size_t i = 0; i < c->n_outputs; i++) {
        const struct circuit_output *o = &c->outputs[i];
        if (o->device != from->device || o->carries[0] != from->carries[0] ||
            o->carries[1] != from->carries[1] || output_record(c, (int)i)->level != level ||
            output_cables(c, (int)i))
            continue;
        struct change move = change_of(CHANGE_CABLE_FROM, c->booth->cables.v[cable].from,
                                       c->booth->cables.v[cable].to);
        circuit_output_name(c, (int)i, move.c);
        fault_fix(f, move);
        return true;
    }
    return false;
}

void find_level_mismatch(struct report *r)
{
    for (size_t i = 0; i < r->c->n_cables; i++) {
        enum level out = output_record(r->c, r->c->cables[i].output)->level;
        enum level in = input_record(r->c, r->c->cables[i].input)->level;
        if (levels_fit(out, in) == LEVELS_FIT)
            continue;
        struct str rest = {0};
        say_mismatch(out, in, &rest);
        struct fault *f = cable_fault(r, &r->b->cables.v[i], str_text(&rest));
        str_clear(&rest);
        fault_advise(f, "lead it into an input of its own kind");
        if (!fix_by_switch(r->c, f, (int)i) && !fix_by_other_input(r->c, f, (int)i))
            fix_by_other_output(r->c, f, (int)i);
    }
}

/* --- ends that are doubled -------------------------------------------------------------------- */

/* Whether nobody's use holds a cable in its place. */
static bool cable_is_loose(const struct booth *b, const struct cable *cable)
{
    struct change pull = change_of(CHANGE_UNCABLE, cable->from, cable->to);
    return !change_touches_in_use(b, &pull);
}

/* One of several cables at one end is to stay. Pulls all the others, or, where two or more are
 * held in use, none. */
static void pull_all_but(struct report *r, struct fault *f, const bool *at_end, size_t stays)
{
    for (size_t i = 0; i < r->c->n_cables; i++)
        if (at_end[i] && i != stays && !cable_is_loose(r->b, &r->b->cables.v[i]))
            return;
    struct circuit *after = circuit_copy(r->c);
    after->n_cables = 0;
    for (size_t i = 0; i < r->c->n_cables; i++)
        if (at_end[i] && i != stays)
            fault_fix(f, change_of(CHANGE_UNCABLE, r->b->cables.v[i].from, r->b->cables.v[i].to));
        else
            after->cables[after->n_cables++] = r->c->cables[i];
    fix_settings(f, r->c, after);
    circuit_free(after);
}

/* Whether a cable is the one that the route of a wanted strip takes. */
static bool cable_routes(const struct circuit *c, const struct circuit_cable *cable)
{
    int strip = c->inputs[cable->input].strip;
    struct route route = strip < 0 ? (struct route){.there = false} : route_to(c, strip);
    return route.there && route.output == cable->output && route.input == cable->input &&
           strip_wanted(c, strip);
}

/* How much a cable should stay where there are too many: what is held in use most, then what a
 * deck is heard through. */
static int claim(const struct report *r, size_t cable)
{
    return (cable_is_loose(r->b, &r->b->cables.v[cable]) ? 0 : 2) +
           cable_routes(r->c, &r->c->cables[cable]);
}

static void doubled_input(struct report *r, int input)
{
    bool at_end[MAX_CABLES] = {false};
    char name[REF_SIZE];
    size_t said = 0, stays = MAX_CABLES, n = (size_t)input_cables(r->c, input);
    struct str text = {0};
    say_input(r, input, &text);
    str_addf(&text, " has %zu cables: from ", n);
    for (size_t i = 0; i < r->c->n_cables; i++) {
        at_end[i] = r->c->cables[i].input == input;
        if (!at_end[i])
            continue;
        say_next(said++, n, &text);
        say_output(r, r->c->cables[i].output, &text);
        if (stays == MAX_CABLES || claim(r, i) > claim(r, stays))
            stays = i;
    }
    struct fault *f = report_fault(r, &text);
    circuit_input_name(r->c, input, name);
    fault_on(f, name);
    fault_advise(f, "ask whose cable may be pulled: more than one is in use");
    pull_all_but(r, f, at_end, stays);
}

void find_doubled_input(struct report *r)
{
    for (size_t i = 0; i < r->c->n_inputs; i++)
        if (input_cables(r->c, (int)i) > 1)
            doubled_input(r, (int)i);
}

/* Whether a cable ends in the selected input of a wanted strip. */
static bool cable_serves(const struct circuit *c, const struct circuit_cable *cable)
{
    int strip = c->inputs[cable->input].strip;
    return strip >= 0 && c->strips[strip].selected == cable->input && strip_wanted(c, strip);
}

/* What serves a wanted strip or is held in use stays; if that is at most one cable, the others are
 * pulled. */
static void split_output(struct report *r, int output)
{
    bool at_end[MAX_CABLES] = {false};
    char name[REF_SIZE];
    size_t said = 0, first = MAX_CABLES, stays = MAX_CABLES, staying = 0;
    size_t n = (size_t)output_cables(r->c, output);
    struct str text = {0};
    say_output(r, output, &text);
    str_add(&text, " is split: it goes to ");
    for (size_t i = 0; i < r->c->n_cables; i++) {
        at_end[i] = r->c->cables[i].output == output;
        if (!at_end[i])
            continue;
        say_next(said++, n, &text);
        say_input(r, r->c->cables[i].input, &text);
        first = first == MAX_CABLES ? i : first;
        if (!cable_serves(r->c, &r->c->cables[i]) && cable_is_loose(r->b, &r->b->cables.v[i]))
            continue;
        stays = i;
        staying++;
    }
    struct fault *f = report_fault(r, &text);
    circuit_output_name(r->c, output, name);
    fault_on(f, name);
    fault_advise(f, "leave it only if the same sound is meant to be at each of them");
    if (staying < 2)
        pull_all_but(r, f, at_end, staying ? stays : first);
}

void find_split_output(struct report *r)
{
    for (size_t i = 0; i < r->c->n_outputs; i++)
        if (output_cables(r->c, (int)i) > 1)
            split_output(r, (int)i);
}

/* --- sides ------------------------------------------------------------------------------------ */

static void crooked_cable(struct report *r, size_t cable, const char *rest)
{
    const struct cable *it = &r->b->cables.v[cable];
    struct fault *f = cable_fault(r, it, rest);
    struct change straight = change_of(CHANGE_CABLE, it->from, it->to);
    straight.number = SIDES_STRAIGHT;
    fault_fix(f, straight);
}

void find_dead_side(struct report *r)
{
    for (size_t i = 0; i < r->c->n_cables; i++) {
        enum sides sides = r->c->cables[i].sides;
        if ((sides == SIDES_LEFT_ONLY || sides == SIDES_RIGHT_ONLY) &&
            cable_serves(r->c, &r->c->cables[i]))
            crooked_cable(r, i,
                          sides == SIDES_LEFT_ONLY ? " passes its left side only"
                                                   : " passes its right side only");
    }
}

void find_swapped_sides(struct report *r)
{
    for (size_t i = 0; i < r->c->n_cables; i++)
        if (r->c->cables[i].sides == SIDES_SWAPPED && cable_serves(r->c, &r->c->cables[i]))
            crooked_cable(r, i, " exchanges left and right");
}
