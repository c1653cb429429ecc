/* Whatever is in a booth, its budget fits a terminal of 80 columns and is sound JSON. */
#include <check.h>
#include <cjson/cJSON.h>
#include <string.h>

#include "base/utf8.h"
#include "cli/print_budget.h"
#include "cli/print_json.h"
#include "engine/ears.h"
#include "support/booth_from.h"

enum { BOOTHS = 400, WIDTH = 80, LOUD = 1000 };

static void check_lines(char *text, bool ascii, unsigned seed)
{
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
        ck_assert_msg(utf8_columns(line, ascii) <= WIDTH, "seed %u: %s", seed, line);
        ck_assert_msg(line[strlen(line) - 1] != ' ', "seed %u: %s", seed, line);
        for (const char *s = line; ascii && *s; s++)
            ck_assert_msg(*s >= ' ' && *s <= '~', "seed %u: %s", seed, line);
    }
}

static void check_text(const struct booth *b, unsigned seed)
{
    struct budget *o = budget_make(b);
    for (int ascii = 0; ascii < 2; ascii++) {
        struct str out = {0};
        text_budget(o, b, LOUD, ascii, &out);
        ck_assert(out.len > 0);
        check_lines(out.text, ascii, seed);
        str_clear(&out);
    }
    budget_free(o);
}

/* As much of everything as a file may hold. */
static void blow_up(struct booth *b)
{
    b->host.rate_hz = 768000;
    b->host.buffer_frames = 65536;
    b->host.port_ma = 10000;
    for (size_t i = 0; i < b->devices.n; i++) {
        struct device *d = &b->devices.v[i];
        if (d->card) {
            d->card->out_channels = d->card->in_channels = 256;
            d->card->slot_bytes = 8;
            d->card->clock_ppm = 10000;
        }
        if (d->usb) {
            d->usb->self_powered = false;
            d->usb->max_power_ma = 10000;
        }
    }
}

START_TEST(no_line_of_a_budget_is_wider_than_80_columns)
{
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        check_text(b, seed);
        blow_up(b);
        check_text(b, seed);
        booth_free(b);
    }
}
END_TEST

static cJSON *document_of(const struct booth *b, int level)
{
    struct str text = {0};
    struct json_out w = json_on(&text, false);
    struct budget *o = budget_make(b);
    json_object(&w, NULL);
    json_budget(o, b, level, &w);
    json_end(&w);
    cJSON *j = cJSON_Parse(str_text(&text));
    str_clear(&text);
    budget_free(o);
    return j;
}

static double number_in(const cJSON *object, const char *key)
{
    const cJSON *n = cJSON_GetObjectItemCaseSensitive(object, key);
    ck_assert_msg(cJSON_IsNumber(n), "%s", key);
    return n->valuedouble;
}

START_TEST(a_budgets_json_holds_what_scripts_are_promised)
{
    for (unsigned seed = 0; seed < BOOTHS; seed++) {
        struct booth *b = booth_random(seed);
        cJSON *j = document_of(b, LOUD);
        ck_assert_msg(j != NULL, "seed %u", seed);
        static const char *const lists[] = {"buses", "hubs", "clocks", "cards", "leads", "levels"};
        for (size_t i = 0; i < sizeof lists / sizeof *lists; i++)
            ck_assert(cJSON_IsArray(cJSON_GetObjectItemCaseSensitive(j, lists[i])));
        ck_assert_double_eq_tol(number_in(j, "latency_ms"),
                                2000.0 * b->host.buffer_frames / b->host.rate_hz, 1e-9);
        /* 100 dB(A): 15 minutes by NIOSH 98-126, table 1-1; 2 hours by 29 CFR 1910.95, G-16 */
        const cJSON *ears = cJSON_GetObjectItemCaseSensitive(j, "hearing");
        ck_assert_double_eq_tol(number_in(ears, "niosh_minutes"), 15, 1e-9);
        ck_assert_double_eq_tol(number_in(ears, "osha_minutes"), 120, 1e-9);
        cJSON_Delete(j);
        j = document_of(b, EARS_UNTOLD);
        ck_assert(cJSON_IsNull(cJSON_GetObjectItemCaseSensitive(j, "hearing")));
        cJSON_Delete(j);
        booth_free(b);
    }
}
END_TEST

Suite *test_budget_text(void);
Suite *test_budget_text(void)
{
    Suite *s = suite_create("cli/budget");
    TCase *t = tcase_create("printed");
    tcase_set_timeout(t, 120);
    tcase_add_test(t, no_line_of_a_budget_is_wider_than_80_columns);
    tcase_add_test(t, a_budgets_json_holds_what_scripts_are_promised);
    suite_add_tcase(s, t);
    return s;
}
