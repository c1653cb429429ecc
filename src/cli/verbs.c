/* Each verb reads, derives, prints; what differs is the printer. check alone takes many files: a
 * file that cannot be read spoils the exit status, not the report. */
#include "cli/verbs.h"

#include <stdint.h>
#include <string.h>

#include "cli/load.h"
#include "cli/print_budget.h"
#include "cli/print_diagnosis.h"
#include "cli/print_plan.h"
#include "cli/print_visit.h"
#include "cli/say.h"
#include "cli/today.h"
#include "cli/write_ident.h"
#include "engine/derived.h"
#include "engine/ears.h"
#include "engine/sheet.h"
#include "file/venue.h"
#include "model/found.h"
#include "model/shape.h"

enum { FOR_VERBS = OPTION_JSON | OPTION_ASCII };

static bool wants_ascii(const struct arguments *a)
{
    return a->options & OPTION_ASCII || say_ascii();
}

static int run_one(const struct arguments *a, struct str *out)
{
    struct err e;
    struct booth *b = load_venue(a->operands[0], &e);
    if (!b)
        return say_error(a->operands[0], &e);
    struct derived *d = derived_make(b);
    if (a->options & OPTION_JSON) {
        struct json_answer j;
        json_answer_open(&j);
        a->verb->json(d, &j.w);
        json_answer_close(&j, out);
    } else {
        a->verb->text(d, wants_ascii(a), out);
    }
    derived_free(d);
    booth_free(b);
    return 0;
}

/* What check gathers over its files: one table, or one document. */
struct report {
    bool as_json;
    const char *named; /* the file before each line; NULL where there is only one */
    struct table table;
    struct json_answer json;
};

static int report_file(const char *file, struct report *r)
{
    struct err e;
    struct booth *b = load_venue(file, &e);
    if (!b)
        return say_error(file, &e);
    struct derived *d = derived_make(b);
    if (r->as_json)
        json_faults(&d->faults, file, &r->json.w);
    else
        text_faults(&d->faults, r->named ? file : NULL, &r->table);
    int status = d->faults.count[SEVERITY_ERROR] ? 1 : 0;
    derived_free(d);
    booth_free(b);
    return status;
}

static int report_files(const struct arguments *a, struct report *r)
{
    int worst = 0;
    for (size_t i = 0; i < a->n; i++) {
        r->named = a->n > 1 ? a->operands[i] : NULL;
        int status = report_file(a->operands[i], r);
        worst = status > worst ? status : worst;
    }
    return worst;
}

static int check_as_json(const struct arguments *a, struct report *r, struct str *out)
{
    json_answer_open(&r->json);
    json_array(&r->json.w, "faults");
    int status = report_files(a, r);
    json_end(&r->json.w);
    json_answer_close(&r->json, out);
    return status;
}

static int check_as_text(const struct arguments *a, struct report *r, struct str *out)
{
    r->table = (struct table){.columns = a->n > 1 ? 4 : 3, .ascii = wants_ascii(a)};
    int status = report_files(a, r);
    table_write(&r->table, out);
    table_clear(&r->table);
    return status;
}

static int run_check(const struct arguments *a, struct str *out)
{
    struct report r = {.as_json = a->options & OPTION_JSON};
    return r.as_json ? check_as_json(a, &r, out) : check_as_text(a, &r, out);
}

static int run_compare(const struct arguments *a, struct str *out)
{
    struct err e;
    struct booth *before = load_venue(a->operands[0], &e);
    struct booth *now = before ? load_venue(a->operands[1], &e) : NULL;
    if (!now) {
        int status = say_error(a->operands[before ? 1 : 0], &e);
        booth_free(before);
        return status;
    }
    struct comparison c = compare_make(before, now);
    if (a->options & OPTION_JSON) {
        struct json_answer j;
        json_answer_open(&j);
        json_compare(&c, before, now, &j.w);
        json_answer_close(&j, out);
    } else {
        text_compare(&c, before, now, wants_ascii(a), out);
    }
    comparison_clear(&c);
    booth_free(before);
    booth_free(now);
    return 0;
}

static int tell_diagnosis(const struct arguments *a, const struct diagnosis *d, struct str *out)
{
    if (a->options & OPTION_JSON) {
        struct json_answer j;
        json_answer_open(&j);
        json_diagnosis(d, &j.w);
        json_answer_close(&j, out);
    } else {
        text_diagnosis(d, wants_ascii(a), out);
    }
    return d->n ? 0 : 1;
}

/* False, with the reason, when something is ruled out that could not be. */
static bool check_nots(const struct arguments *a, const struct diagnosis *d, struct err *e)
{
    for (size_t i = 0; i < a->n_nots; i++)
        if (!cause_name_known(d->believed, a->nots[i]))
            return err_set(e, ERR_USAGE, NULL,
                           "\"%.200s\" is no cause here; expected one as diagnose --json tells it, "
                           "as in selector-elsewhere:s2",
                           a->nots[i]);
    return true;
}

static int run_diagnose(const struct arguments *a, struct str *out)
{
    struct err e;
    struct booth *b = load_venue(a->operands[0], &e);
    if (!b)
        return say_error(a->operands[0], &e);
    struct texts nots = {0};
    for (size_t i = 0; i < a->n_nots; i++)
        texts_add(&nots, a->nots[i]);
    struct diagnosis d = diagnosis_without(b, &nots);
    int status = check_nots(a, &d, &e) ? tell_diagnosis(a, &d, out) : say_error(NULL, &e);
    texts_clear(&nots);
    diagnosis_clear(&d);
    booth_free(b);
    return status;
}

/* As the editor takes a plan: what was found is kept. */
static void write_made(const struct booth *before, const struct plan *p, struct str *out)
{
    struct booth *made = booth_copy(p->after);
    found_keep_before(before, made);
    venue_write(made, out);
    booth_free(made);
}

/* The venue as it will be, or why not. */
static int apply_plan(const struct arguments *a, const struct booth *b, const struct plan *plans,
                      struct str *out)
{
    const char *name = arguments_value(a, OPTION_APPLY);
    int way = word_find(&words_way, name);
    struct err e;
    if (way < 0) {
        err_set(&e, ERR_USAGE, NULL,
                "\"%.60s\" is no way into the mixer; expected mixer-card, player-cards or patched",
                name);
        return say_error(NULL, &e);
    }
    const struct plan *p = plans_of(plans, (enum way)way);
    if (p->feasible) {
        write_made(b, p, out);
        return 0;
    }
    err_set(&e, ERR_NONE, NULL, "%s: %s", name, p->why_not);
    say_error(a->operands[0], &e);
    return 1;
}

static int run_plan(const struct arguments *a, struct str *out)
{
    struct err e;
    struct booth *b = load_venue(a->operands[0], &e);
    if (!b)
        return say_error(a->operands[0], &e);
    struct plan *plans = plans_make(b);
    int status = plans[0].feasible ? 0 : 1;
    if (a->options & OPTION_APPLY) {
        status = apply_plan(a, b, plans, out);
    } else if (a->options & OPTION_JSON) {
        struct json_answer j;
        json_answer_open(&j);
        json_plans(plans, &j.w);
        json_answer_close(&j, out);
    } else {
        text_plans(plans, wants_ascii(a), out);
    }
    plans_free(plans);
    booth_free(b);
    return status;
}

static int run_budget(const struct arguments *a, struct str *out)
{
    struct err e;
    int level = EARS_UNTOLD;
    const char *told = arguments_value(a, OPTION_LEVEL);
    if (told && !ears_read(told, &level, &e))
        return say_error(NULL, &e);
    struct booth *b = load_venue(a->operands[0], &e);
    if (!b)
        return say_error(a->operands[0], &e);
    struct budget *o = budget_make(b);
    if (a->options & OPTION_JSON) {
        struct json_answer j;
        json_answer_open(&j);
        json_budget(o, b, level, &j.w);
        json_answer_close(&j, out);
    } else {
        text_budget(o, b, level, wants_ascii(a), out);
    }
    budget_free(o);
    booth_free(b);
    return 0;
}

static int run_sheet(const struct arguments *a, struct str *out)
{
    struct err e;
    struct booth *b = load_venue(a->operands[0], &e);
    if (!b)
        return say_error(a->operands[0], &e);
    struct derived *d = derived_make(b);
    struct str date = {0};
    today(&date);
    if (a->options & OPTION_SVG)
        sheet_svg(d, str_text(&date), out);
    else if (a->options & OPTION_CSV)
        sheet_csv(d, str_text(&date), out);
    else
        sheet_text(d, str_text(&date), out);
    str_clear(&date);
    derived_free(d);
    booth_free(b);
    return 0;
}

static const struct verb verbs[] = {
    {.name = "check",
     .operands = "FILE...",
     .line = "what is wrong: one line a fault",
     .help =
         "Each line tells how bad it is, which fault it is, what is wrong and what would put it "
         "right. An error means that sound is or will be wrong or absent; a warning will bite "
         "later; a note is worth knowing. A file that cannot be read is told, and the rest are "
         "checked all the same.",
     .least = 1,
     .most = SIZE_MAX,
     .options = FOR_VERBS,
     .run = run_check},
    {.name = "route",
     .operands = "FILE",
     .line = "the table to type into the host",
     .help = "For each host deck the pair that the host must play it to, counted as this host "
             "counts, so that it comes out of the strip that it wants; and what it goes through on "
             "its way.",
     .least = 1,
     .most = 1,
     .options = FOR_VERBS,
     .run = run_one,
     .text = text_routes,
     .json = json_routes},
    {.name = "heard",
     .operands = "FILE",
     .line = "what the ear will find with the decks as set",
     .help = "Strip by strip, from the left, which side of which host deck is heard on its left "
             "and on its right.",
     .least = 1,
     .most = 1,
     .options = FOR_VERBS,
     .run = run_one,
     .text = text_heard,
     .json = json_heard},
    {.name = "order",
     .operands = "FILE",
     .line = "the connection steps, one after the other",
     .help = "What to do, what you should then see and, where it matters, why; steps that are "
             "ticked in the venue are marked.",
     .least = 1,
     .most = 1,
     .options = FOR_VERBS,
     .run = run_one,
     .text = text_steps,
     .json = json_steps},
    {.name = "plan",
     .operands = "FILE",
     .line = "the ways into the mixer, ranked by minutes of work",
     .help = "For the mixer's own card, the players' cards and a patched interface: the least work "
             "that gets every host deck heard at the strip that it wants, in the order of hands, "
             "with what to bring and what else to do; or why it cannot be. With --apply the venue "
             "as it will be is printed instead.",
     .least = 1,
     .most = 1,
     .options = FOR_VERBS | OPTION_APPLY,
     .run = run_plan},
    {.name = "diagnose",
     .operands = "FILE",
     .line = "explanations of the line check, likeliest first",
     .help = "From the marks of the line check in the venue: the smallest sets of causes that give "
             "exactly what was heard, with the cheapest mend of the likeliest, and which deck to "
             "check next. How likely a cause is, is common practice. With --not, when somebody has "
             "looked and it is not that: what else it could be.",
     .least = 1,
     .most = 1,
     .options = FOR_VERBS | OPTION_NOT,
     .run = run_diagnose},
    {.name = "failures",
     .operands = "FILE",
     .line = "what each single failure silences, and the way back",
     .help = "For the laptop, each card, hub, strip, cable and data lead: the host decks that fall "
             "silent, those that are heard elsewhere, and the quickest way back without it.",
     .least = 1,
     .most = 1,
     .options = FOR_VERBS,
     .run = run_one,
     .text = text_failures,
     .json = json_failures},
    {.name = "compare",
     .operands = "OLD NEW",
     .line = "what differs between two visits, and in the routes",
     .help =
         "What is gone, new, moved, rewired, switched or noted otherwise; the routes that are no "
         "longer what they were; the least work from the old settings to the new; and a saved "
         "combination that still fits.",
     .least = 2,
     .most = 2,
     .options = FOR_VERBS,
     .run = run_compare},
    {.name = "restore",
     .operands = "FILE",
     .line = "what to put back to leave the booth as found",
     .help = "In the order of hands: cables behind the mixer, switches, selectors, sources, data "
             "leads. What somebody is using is left alone, and said.",
     .least = 1,
     .most = 1,
     .options = FOR_VERBS,
     .run = run_one,
     .text = text_restore,
     .json = json_restore},
    {.name = "budget",
     .operands = "FILE",
     .line = "what is used of buses, ports, clocks, buffers, levels",
     .help = "Worst first: the time of each bus and translator, the packets of the cards, ports, "
             "hubs and current, how often samples slip, the delay of the buffers, the level at "
             "each input; with the fault where there is one. Figures follow the standards and "
             "what the venue says; devices may lie, and hosts may give less. With --level, how "
             "long ears may have, as information: local rules come first.",
     .least = 1,
     .most = 1,
     .options = FOR_VERBS | OPTION_LEVEL,
     .run = run_budget},
    {.name = "sheet",
     .operands = "FILE",
     .line = "the one-page patch sheet: text, --csv or --svg",
     .help =
         "For the house technician and for your own folder: the way in, what is in use, routes, "
         "the order of connecting, cables by strip, open faults, notes and cautions.",
     .least = 1,
     .most = 1,
     .options = OPTION_CSV | OPTION_SVG,
     .run = run_sheet},
    {.name = "ident",
     .operands = "FILE DECK|--all",
     .line = "sound files that tell the host decks by ear",
     .help = "Writes WAV files (24 bit, stereo) for the host to play: bursts for the deck's number "
             "(a long one for each ten), then a line ident that tells left from right: GLITS, or "
             "with --ebu the EBU stereo ident; a 1 kHz tone 18 dB below full scale. Levels down "
             "first, then up slowly. A file that is there already is never written over. With "
             "--play no file is written: it is played on a sound device, which must be named, to "
             "the channels that the deck plays to, with silence on all others; any key stops it. "
             "--level plays it softer.",
     .least = 1,
     .most = 2,
     .options = OPTION_ASCII | OPTION_ALL | OPTION_INTO | OPTION_RATE | OPTION_EBU | OPTION_PLAY |
                OPTION_LEVEL,
     .run = write_ident},
};

const struct verb *verb_at(size_t i)
{
    return i < sizeof verbs / sizeof *verbs ? &verbs[i] : NULL;
}

const struct verb *verb_find(const char *name)
{
    for (size_t i = 0; i < sizeof verbs / sizeof *verbs; i++)
        if (strcmp(verbs[i].name, name) == 0)
            return &verbs[i];
    return NULL;
}
