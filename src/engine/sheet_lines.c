/* What a sheet tells, part by part. Somebody reads it in another light, weeks later, with nothing
 * but the paper: so every line names its things in full, and the connecting is what the checklist
 * says, in its words. */
#include <stdio.h>
#include <string.h>

#include "engine/sheet.h"
#include "engine/sheet_page.h"
#include "model/say.h"

/* --- in use ----------------------------------------------------------------------------------- */

static void add_used(struct sheet_page *p, const struct booth *b, const char *id, const char *by)
{
    struct str line = {0};
    size_t at = p->n;
    if (!by)
        return;
    str_add(&line, "HANDS OFF ");
    say_thing(b, id, &line);
    str_addf(&line, ": in use by %s", by);
    page_words(p, 0, 2, line.text);
    for (; at < p->n; at++)
        p->v[at].head = true;
    str_clear(&line);
}

static void add_all_used(struct sheet_page *p, const struct booth *b)
{
    for (size_t i = 0; i < b->devices.n; i++) {
        const struct device *d = &b->devices.v[i];
        add_used(p, b, d->id, d->in_use);
        for (size_t k = 0; k < d->strips.n; k++)
            add_used(p, b, d->strips.v[k].id, d->strips.v[k].in_use);
    }
}

/* --- routes ----------------------------------------------------------------------------------- */

static void add_route(struct sheet_page *p, const struct derived *d, int deck)
{
    const struct booth *b = d->circuit->booth;
    const struct deck *k = &b->decks.v[deck];
    const struct route *r = &d->routes[deck];
    struct str pair = {0}, through = {0}, strip = {0}, by = {0};
    route_show(d->circuit, r->there ? r->pair : (struct pair){-1, -1}, &pair);
    sheet_through(d, deck, &through);
    if (*k->wants)
        say_thing(b, k->wants, &strip);
    if (*k->controlled_by)
        str_addf(&by, "%s controls", booth_label(b, k->controlled_by));
    page_row(p, (const char *[SHEET_CELLS]){k->label, str_text(&pair),
                                            strip.len ? strip.text : "no strip",
                                            through.len ? through.text : "no route", by.text});
    str_clear(&pair);
    str_clear(&through);
    str_clear(&strip);
    str_clear(&by);
}

static void add_routes(struct sheet_page *p, const struct derived *d)
{
    if (d->circuit->n_decks == 0)
        return;
    page_head(p, "ROUTES: set in the host");
    for (size_t i = 0; i < d->circuit->n_decks; i++)
        add_route(p, d, (int)i);
    page_end_rows(p);
}

/* --- connecting ------------------------------------------------------------------------------- */

bool sheet_connects(const struct booth *b, const struct step *s, const struct plug **lead,
                    const char **label)
{
    static const char *const kinds[] = {"driver", "combination", "hub-",
                                        "join-",  "plug-",       "interface"};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
        if (strncmp(s->id, kinds[i], strlen(kinds[i])) != 0)
            continue;
        const char *dash = strchr(s->id, '-'), *id = dash ? dash + 1 : "";
        const struct hub *h = booth_hub(b, id);
        const struct device *d = booth_device(b, id);
        *lead = h ? &h->plugged : d ? &d->plugged : NULL;
        *label = *lead ? booth_label(b, id) : NULL;
        return true;
    }
    return false;
}

static void add_step(struct sheet_page *p, const struct step *s, size_t number, int before)
{
    struct str line = {0};
    int now = s->expect_channels;
    str_addf(&line, "%zu. %s", number, s->text);
    if (now >= 0)
        str_addf(&line, "; %s %d %s", now == before ? "still" : "then", now,
                 now == 1 ? "channel" : "channels");
    page_words(p, number < 10 ? 3 : 2, number < 10 ? 3 : 4, line.text);
    str_clear(&line);
}

static void add_order(struct sheet_page *p, const struct derived *d)
{
    const struct plug *lead;
    const char *label;
    size_t number = 0;
    int channels = 0; /* of the interface, as far as it has grown */
    for (size_t i = 0; i < d->steps.n; i++) {
        const struct step *s = &d->steps.v[i];
        if (!sheet_connects(d->circuit->booth, s, &lead, &label))
            continue;
        if (number == 0)
            page_head(p, "CONNECT IN THIS ORDER, one at a time");
        add_step(p, s, ++number, channels);
        channels = s->expect_channels >= 0 ? s->expect_channels : channels;
    }
}

static bool is_told(const struct derived *d, const struct plug *plugged)
{
    const struct plug *lead;
    const char *label;
    for (size_t i = 0; i < d->steps.n; i++)
        if (sheet_connects(d->circuit->booth, &d->steps.v[i], &lead, &label) && lead == plugged)
            return true;
    return false;
}

bool sheet_other_lead(const struct derived *d, size_t i, struct sheet_lead *lead)
{
    const struct booth *b = d->circuit->booth;
    for (size_t k = 0; k < b->hubs.n + b->devices.n; k++) {
        const struct hub *h = k < b->hubs.n ? &b->hubs.v[k] : NULL;
        const struct device *v = h ? NULL : &b->devices.v[k - b->hubs.n];
        *lead = (struct sheet_lead){booth_label(b, h ? h->id : v->id),
                                    h ? &h->plugged : &v->plugged, h};
        if (*lead->plugged->at && !is_told(d, lead->plugged) && i-- == 0)
            return true;
    }
    return false;
}

static void add_other_leads(struct sheet_page *p, const struct derived *d)
{
    struct sheet_lead lead;
    for (size_t i = 0; sheet_other_lead(d, i, &lead); i++) {
        struct str port = {0};
        say_plug(d->circuit->booth, lead.plugged, &port);
        if (i == 0)
            page_head(p, "OTHER DATA LEADS");
        const char *supply = !lead.hub                ? ""
                             : lead.hub->self_powered ? "a supply of its own"
                                                      : "no supply of its own";
        page_row(p, (const char *[SHEET_CELLS]){lead.label, port.text, supply});
        str_clear(&port);
    }
    page_end_rows(p);
}

/* --- cables ----------------------------------------------------------------------------------- */

/* "P1 line" */
static void say_output(const struct out_end *out, struct str *text)
{
    str_addf(text, "%s %s", out->device->label, out->output->id);
}

static void add_cable(struct sheet_page *p, const struct booth *b, const struct cable *c,
                      const char *to, const char *input)
{
    struct out_end out;
    struct in_end in;
    struct str from = {0}, sides = {0};
    if (!booth_output(b, c->from, &out) || !booth_input(b, c->to, &in))
        return;
    const char *connector = out.output->connector == CONNECTOR_UNSAID
                                ? ""
                                : word_people(&words_connector, (int)out.output->connector);
    say_output(&out, &from);
    str_add(&sides, word_people(&words_sides, (int)c->sides));
    if (in.input->levels.n)
        str_addf(&sides, ", switch on %s", word_people(&words_level, (int)in.input->level));
    page_row(p, (const char *[SHEET_CELLS]){to, input, from.text, connector, sides.text});
    str_clear(&from);
    str_clear(&sides);
}

/* What feeds a selected input without a cable. */
static void add_bare(struct sheet_page *p, const struct device *mixer, const struct input *in,
                     const char *to, const char *input)
{
    struct str from = {0}, socket = {0};
    if (in->level != LEVEL_USB)
        str_add(&from, "nothing is plugged in");
    else
        str_addf(&from, "%s's own card", mixer->label);
    if (in->socket)
        str_addf(&socket, "socket %s", in->socket);
    page_row(p, (const char *[SHEET_CELLS]){to, input, from.text, socket.text,
                                            input_is_ours(mixer, in) ? "" : "not ours"});
    str_clear(&from);
    str_clear(&socket);
}

static void add_input(struct sheet_page *p, const struct booth *b, const struct strip *s,
                      const struct input *in)
{
    char name[REF_SIZE];
    const struct device *mixer = NULL;
    bool any = false, on = strcmp(s->selected, in->id) == 0;
    struct str to = {0}, input = {0};
    booth_strip(b, s->id, &mixer);
    say_thing(b, s->id, &to);
    str_addf(&input, "%c %s", on ? '*' : ' ', in->id);
    snprintf(name, sizeof name, "%s.%s", s->id, in->id);
    for (size_t i = 0; i < b->cables.n; i++) {
        if (strcmp(b->cables.v[i].to, name) != 0)
            continue;
        add_cable(p, b, &b->cables.v[i], to.text, input.text);
        any = true;
    }
    if (!any && on)
        add_bare(p, mixer, in, to.text, input.text);
    str_clear(&to);
    str_clear(&input);
}

static void add_cables_by_strip(struct sheet_page *p, const struct derived *d)
{
    const struct circuit *c = d->circuit;
    if (c->n_strips == 0)
        return;
    page_head(p, "CABLES BY STRIP, from the left (* selected)");
    for (size_t k = 0; k < c->n_strips; k++) {
        const struct strip *s = circuit_strip(c, c->by_rank[k]);
        for (size_t i = 0; i < s->inputs.n; i++)
            add_input(p, c->booth, s, &s->inputs.v[i]);
    }
    page_end_rows(p);
}

static void add_other_cables(struct sheet_page *p, const struct derived *d)
{
    const struct booth *b = d->circuit->booth;
    bool any = false;
    for (size_t i = 0; i < b->cables.n; i++) {
        struct in_end in;
        if (!booth_input(b, b->cables.v[i].to, &in) || in.strip)
            continue;
        if (!any)
            page_head(p, "OTHER CABLES");
        any = true;
        add_cable(p, b, &b->cables.v[i], in.device->label, in.input->id);
    }
    page_end_rows(p);
}

/* --- all of it -------------------------------------------------------------------------------- */

static void add_faults(struct sheet_page *p, const struct derived *d)
{
    if (d->faults.n)
        page_head(p, "OPEN FAULTS");
    for (size_t i = 0; i < d->faults.n; i++) {
        struct str line = {0};
        str_addf(&line, "%s: %s", severity_word(d->faults.v[i].severity), d->faults.v[i].text);
        page_words(p, 2, 2, line.text);
        str_clear(&line);
    }
}

void sheet_lines(const struct derived *d, struct sheet_page *p)
{
    const char *notes = d->circuit->booth->venue.notes;
    add_all_used(p, d->circuit->booth);
    add_routes(p, d);
    add_order(p, d);
    add_other_leads(p, d);
    add_cables_by_strip(p, d);
    add_other_cables(p, d);
    add_faults(p, d);
    if (notes)
        page_head(p, "NOTES");
    if (notes)
        page_words(p, 2, 0, notes);
}
