/* The sheet as text: a title, what all sheets tell (sheet_lines.c) at the width of a terminal, and
 * the cautions. */
#include "engine/sheet.h"

#include <string.h>

#include "base/utf8.h"
#include "engine/sheet_page.h"
#include "model/say.h"

enum { WIDTH = 80 };

static const char *const cautions[] = {
    "Levels down before anything is plugged, and up slowly, one deck at a time.",
    "Never lift a protective earth; damage and mains are for the house and licensed people.",
    "Lift heavy cases in twos; no leads where people walk.",
    "Loudness and its limits: local rules and the person responsible for safety come first.",
};

const char *sheet_caution(size_t i)
{
    return i < sizeof cautions / sizeof *cautions ? cautions[i] : NULL;
}

const char *sheet_way(const struct booth *b)
{
    const struct device *d = b->joined.n ? booth_device(b, b->joined.v[0]) : NULL;
    return !d                       ? "nothing is in the interface yet"
           : d->kind == KIND_MIXER  ? word_people(&words_way, WAY_MIXER_CARD)
           : d->kind == KIND_PLAYER ? word_people(&words_way, WAY_PLAYER_CARDS)
                                    : word_people(&words_way, WAY_PATCHED);
}

void sheet_through(const struct derived *d, int deck, struct str *out)
{
    const struct route *r = &d->routes[deck];
    char name[REF_SIZE];
    if (!r->there)
        return;
    str_add(out, circuit_device(d->circuit, r->device)->label);
    if (r->output >= 0)
        circuit_output_name(d->circuit, r->output, name);
    else
        circuit_input_name(d->circuit, r->input, name);
    str_addf(out, " %s", strchr(name, '.') + 1);
}

void sheet_settings(const struct booth *b, struct str *out)
{
    str_addf(out, "Way in: %s; ", sheet_way(b));
    say_rate(b->host.rate_hz, out);
    str_addf(out, ", %d frames; the host %s.", b->host.buffer_frames,
             word_people(&words_channel_names, (int)b->host.channel_names));
}

/* The date stands at the right of the title, or below one that is too long. */
static void add_title(struct sheet_page *p, const struct booth *b, const char *date)
{
    struct str title = {0};
    str_addf(&title, "PATCH SHEET  %s%s%s", b->venue.name, b->venue.room ? ", " : "",
             b->venue.room ? b->venue.room : "");
    int gap = WIDTH - utf8_columns(title.text, false) - utf8_columns(date, false);
    if (gap > 1) {
        str_addf(&title, "%*s%s", gap, "", date);
        page_line(p, title.text);
    } else {
        page_words(p, 0, 2, title.text);
        page_words(p, 0, 0, date);
    }
    str_clear(&title);
}

void sheet_text(const struct derived *d, const char *date, struct str *out)
{
    struct sheet_page p = {.columns = WIDTH};
    struct str settings = {0};
    add_title(&p, d->circuit->booth, date);
    sheet_settings(d->circuit->booth, &settings);
    str_add(&settings, " Strips are counted as the DJ sees them.");
    page_words(&p, 0, 0, settings.text);
    sheet_lines(d, &p);
    page_head(&p, "CAUTIONS");
    for (size_t i = 0; sheet_caution(i); i++)
        page_words(&p, 2, 2, sheet_caution(i));
    for (size_t i = 0; i < p.n; i++)
        str_addf(out, "%s\n", p.v[i].text);
    str_clear(&settings);
    page_clear(&p);
}
