/* The table of rules and its runner.
 *
 * Every rule runs in the table's order, which is errors, warnings, notes; each finds in the file's
 * order. Then each fix is looked at once more: one that would touch what somebody is using becomes
 * advice to ask them, the others are said as an order. */
#include "engine/faults.h"

#include <string.h>

#include "base/mem.h"
#include "engine/rules.h"
#include "model/say.h"
#include "model/shape.h"

static const struct rule {
    const char *slug;
    enum severity severity;
    finder find;
} rules[] = {
    {"own-media", SEVERITY_ERROR, find_own_media},
    {"selector-elsewhere", SEVERITY_ERROR, find_selector_elsewhere},
    {"not-joined", SEVERITY_ERROR, find_not_joined},
    {"unwired-strip", SEVERITY_ERROR, find_unwired_strip},
    {"doubled-strip", SEVERITY_ERROR, find_doubled_strip},
    {"doubled-pair", SEVERITY_ERROR, find_doubled_pair},
    {"stale-setting", SEVERITY_ERROR, find_stale_setting},
    {"no-such-channel", SEVERITY_ERROR, find_no_such_channel},
    {"straddled-pair", SEVERITY_ERROR, find_straddled_pair},
    {"cannot-combine", SEVERITY_ERROR, find_cannot_combine},
    {"device-in-use", SEVERITY_ERROR, find_device_in_use},
    {"level-mismatch", SEVERITY_ERROR, find_level_mismatch},
    {"doubled-input", SEVERITY_ERROR, find_doubled_input},
    {"no-common-rate", SEVERITY_ERROR, find_no_common_rate},
    {"dead-side", SEVERITY_ERROR, find_dead_side},
    {"swapped-sides", SEVERITY_ERROR, find_swapped_sides},
    {"unplugged", SEVERITY_ERROR, find_unplugged},
    {"usb-ports", SEVERITY_ERROR, find_usb_ports},
    {"usb-depth", SEVERITY_ERROR, find_usb_depth},
    {"usb-power", SEVERITY_ERROR, find_usb_power},
    {"usb-bandwidth", SEVERITY_ERROR, find_usb_bandwidth},
    {"strip-in-use", SEVERITY_WARNING, find_strip_in_use},
    {"no-control", SEVERITY_WARNING, find_no_control},
    {"order-against-place", SEVERITY_WARNING, find_order_against_place},
    {"odd-card", SEVERITY_WARNING, find_odd_card},
    {"crossed-control", SEVERITY_WARNING, find_crossed_control},
    {"doubled-control", SEVERITY_WARNING, find_doubled_control},
    {"split-output", SEVERITY_WARNING, find_split_output},
    {"old-firmware", SEVERITY_WARNING, find_old_firmware},
    {"free-running-clocks", SEVERITY_WARNING, find_free_running_clocks},
    {"long-latency", SEVERITY_WARNING, find_long_latency},
    {"new-combination", SEVERITY_NOTE, find_new_combination},
    {"undecided-deck", SEVERITY_NOTE, find_undecided_deck},
    {"idle-player", SEVERITY_NOTE, find_idle_player},
};

enum { RULES = sizeof rules / sizeof *rules };

bool faults_rule(size_t i, const char **slug, enum severity *severity)
{
    if (i >= RULES)
        return false;
    *slug = rules[i].slug;
    *severity = rules[i].severity;
    return true;
}

const char *severity_word(enum severity s)
{
    static const char *const words[] = {"error", "warning", "note"};
    return words[s];
}

/* --- telling ---------------------------------------------------------------------------------- */

struct fault *report_fault(struct report *r, struct str *text)
{
    struct faults *all = r->found;
    all->v = mem_grow(all->v, &all->cap, all->n + 1, sizeof *all->v);
    struct fault *f = &all->v[all->n++];
    *f = (struct fault){.slug = r->slug, .severity = r->severity, .text = str_take(text)};
    all->count[r->severity]++;
    return f;
}

void fault_on(struct fault *f, const char *subject)
{
    texts_add(&f->subjects, subject);
}

void fault_on_joined(const struct report *r, struct fault *f)
{
    for (size_t i = 0; i < r->b->joined.n; i++)
        fault_on(f, r->b->joined.v[i]);
}

void fault_fix(struct fault *f, struct change change)
{
    changes_add(&f->fix, change);
}

void fault_advise(struct fault *f, const char *text)
{
    text_set(&f->fix_text, text);
}

/* --- names for people ------------------------------------------------------------------------- */

const char *deck_label(const struct report *r, int deck)
{
    return r->b->decks.v[deck].label;
}

const char *device_label(const struct report *r, int device)
{
    return circuit_device(r->c, device)->label;
}

void say_strip(const struct report *r, int strip, struct str *out)
{
    say_thing(r->b, circuit_strip(r->c, strip)->id, out);
}

void say_output(const struct report *r, int output, struct str *out)
{
    char name[REF_SIZE];
    circuit_output_name(r->c, output, name);
    say_jack(r->b, name, out);
}

void say_input(const struct report *r, int input, struct str *out)
{
    char name[REF_SIZE];
    circuit_input_name(r->c, input, name);
    say_jack(r->b, name, out);
}

void say_next(size_t i, size_t n, struct str *out)
{
    if (i > 0)
        str_add(out, i + 1 == n ? " and " : ", ");
}

void say_joined(const struct report *r, struct str *out)
{
    for (size_t i = 0; i < r->c->n_joined; i++) {
        say_next(i, r->c->n_joined, out);
        str_add(out, device_label(r, r->c->joined[i]));
    }
}

/* --- the fix, once found ---------------------------------------------------------------------- */

static const char *in_use_by(const struct booth *b, const char *id)
{
    const struct strip *s = booth_strip(b, id, NULL);
    const struct device *d = booth_device(b, id);
    return s ? s->in_use : d ? d->in_use : NULL;
}

/* The id in a name: "p1" of "p1.line" and of "p1". */
static void owner_of(const char *name, char id[ID_SIZE])
{
    char jack[ID_SIZE];
    id[0] = '\0';
    if (!ref_split(name, id, jack) && strlen(name) < ID_SIZE)
        strcpy(id, name);
}

/* The thing in use that a change would touch, as an id; false when it touches none. */
static bool touched_by(const struct booth *b, const struct change *c, char id[ID_SIZE])
{
    if (!change_touches_in_use(b, c))
        return false;
    const char *names[] = {c->a, c->b, c->c};
    for (size_t i = 0; i < 3; i++) {
        owner_of(names[i], id);
        if (in_use_by(b, id))
            return true;
    }
    for (size_t i = 0; i < b->joined.n && c->what == CHANGE_ORDER; i++) {
        owner_of(b->joined.v[i], id);
        if (in_use_by(b, id))
            return true;
    }
    id[0] = '\0';
    return true;
}

/* Whether the pairs after a change may belong to other cards than before. */
static bool moves_pairs(const struct change *c)
{
    return c->what == CHANGE_JOIN || c->what == CHANGE_LEAVE || c->what == CHANGE_ORDER;
}

/* Where the host names pairs by their devices, a change is told in the booth that those before it
 * leave behind: a card that leaves renames the pairs after it. */
static void say_fix(const struct booth *b, const struct changes *fix, struct str *out)
{
    struct booth *then = NULL;
    struct err e;
    for (size_t i = 0; i < fix->n; i++) {
        say_next(i, fix->n, out);
        change_say(then ? then : b, &fix->v[i], out);
        if (i + 1 == fix->n || b->host.channel_names != NAMES_BY_DEVICE || !moves_pairs(&fix->v[i]))
            continue;
        then = then ? then : booth_copy(b);
        change_make(then, &fix->v[i], &e);
    }
    booth_free(then);
}

static void settle_fix(const struct booth *b, struct fault *f)
{
    char id[ID_SIZE] = "";
    struct str said = {0};
    bool touches = false;
    for (size_t i = 0; i < f->fix.n && !touches; i++)
        touches = touched_by(b, &f->fix.v[i], id);
    if (touches && *id) {
        say_thing(b, id, &said);
        str_addf(&said, " is in use by %s: ask before you ", in_use_by(b, id));
    } else if (touches) {
        str_add(&said, "something is in use: ask before you ");
    }
    say_fix(b, &f->fix, &said);
    if (f->fix.n)
        fault_advise(f, str_text(&said));
    if (touches)
        changes_clear(&f->fix);
    str_clear(&said);
}

/* --- the runner ------------------------------------------------------------------------------- */

struct faults faults_find(const struct circuit *c)
{
    struct faults found = {0};
    for (size_t i = 0; i < RULES; i++) {
        struct report r = {c, c->booth, &found, rules[i].slug, rules[i].severity};
        rules[i].find(&r);
    }
    for (size_t i = 0; i < found.n; i++)
        settle_fix(c->booth, &found.v[i]);
    return found;
}

void faults_clear(struct faults *f)
{
    for (size_t i = 0; i < f->n; i++) {
        struct fault *one = &f->v[i];
        texts_clear(&one->subjects);
        mem_free(one->text);
        mem_free(one->fix_text);
        changes_clear(&one->fix);
    }
    mem_free(f->v);
    *f = (struct faults){0};
}
