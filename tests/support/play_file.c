#include "support/play_file.h"

#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/utf8.h"
#include "file/disk.h"
#include "file/venue.h"
#include "support/booth_from.h"
#include "ui/pane.h"
#include "ui/scene.h"

void play_begin(struct play *p)
{
    *p = (struct play){.app = app_new(), .ascii = true};
    p->app->ascii = true;
}

void play_end(struct play *p)
{
    app_free(p->app);
    p->app = NULL;
}

void play_open(struct play *p, const char *file)
{
    struct str bytes = {0};
    struct stamp seen;
    struct err e;
    ck_assert_msg(disk_read(file, &bytes, &seen, &e), "%s: %s", file, e.says);
    struct booth *b = venue_read(str_text(&bytes), bytes.len, &e);
    ck_assert_msg(b != NULL, "%s: %s %s", file, e.place, e.says);
    str_clear(&bytes);
    app_open(p->app, b, file);
}

const char *play_screen(const struct play *p)
{
    static struct str text;
    struct grid *g = grid_new(p->app->columns, p->app->rows, p->ascii);
    str_clear(&text);
    scene_draw(p->app, g);
    grid_text(g, &text);
    grid_free(g);
    return str_text(&text);
}

static void send(struct play *p, struct event ev)
{
    p->keys += ev.kind == EVENT_KEY;
    if (p->also)
        p->also(&ev);
    p->effect = app_update(p->app, &ev);
}

static int key_named(const char *name)
{
    static const struct {
        const char *name;
        int key;
    } names[] = {{"Enter", K_ENTER},    {"Esc", K_ESC},
                 {"Tab", K_TAB},        {"space", ' '},
                 {"Up", K_UP},          {"Down", K_DOWN},
                 {"Left", K_LEFT},      {"Right", K_RIGHT},
                 {"Home", K_HOME},      {"End", K_END},
                 {"PageUp", K_PAGE_UP}, {"PageDown", K_PAGE_DOWN},
                 {"Delete", K_DELETE},  {"Backspace", K_BACKSPACE}};
    uint32_t point = 0;
    size_t n = strlen(name);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (strcmp(names[i].name, name) == 0)
            return names[i].key;
    if (name[0] == '^' && n == 2)
        return K_CTRL(name[1]);
    ck_assert_msg(utf8_next(name, n, &point) == n, "no key is called %s", name);
    return (int)point;
}

static void send_key(struct play *p, int key)
{
    send(p, (struct event){.kind = EVENT_KEY, .key = key});
}

static void type_text(struct play *p, const char *text)
{
    for (size_t n = strlen(text), at = 0; at < n;) {
        uint32_t point = 0;
        at += utf8_next(text + at, n - at, &point);
        send_key(p, (int)point);
    }
}

/* A spot by name: "h1", "s1", "p1.line", "selector:s1.phono", "source:p1". */
static struct spot spot_named(const struct play *p, const char *name)
{
    const struct booth *b = app_booth(p->app);
    if (strncmp(name, "selector:", 9) == 0)
        return spot_of(SPOT_SELECTOR, name + 9);
    if (strncmp(name, "source:", 7) == 0)
        return spot_of(SPOT_SOURCE, name + 7);
    enum spot_kind kind = booth_deck(b, name)           ? SPOT_DECK
                          : booth_strip(b, name, NULL)  ? SPOT_STRIP
                          : booth_device(b, name)       ? SPOT_DEVICE
                          : booth_hub(b, name)          ? SPOT_HUB
                          : booth_output(b, name, NULL) ? SPOT_OUTPUT
                                                        : SPOT_INPUT;
    return spot_of(kind, name);
}

static void at_spot(struct play *p, enum event_kind kind, const char *name)
{
    struct spot s = spot_named(p, name);
    struct rect window = app_canvas_rect(p->app), r;
    ck_assert_msg(canvas_where(p->app->canvas, &s, &r), "%s is not on the canvas", name);
    send(p, (struct event){.kind = kind,
                           .button = 1,
                           .column = window.x + r.x + r.w / 2 - p->app->scroll_x,
                           .row = window.y + r.y + r.h / 2 - p->app->scroll_y});
}

static void play_mouse(struct play *p, const char *what, const char *rest)
{
    struct event ev = {.button = 1};
    ck_assert_msg(sscanf(rest, "%d,%d %d", &ev.column, &ev.row, &ev.key) >= 2, "%s %s", what, rest);
    ev.kind = strcmp(what, "press") == 0  ? EVENT_PRESS
              : strcmp(what, "move") == 0 ? EVENT_MOVE
              : strcmp(what, "lift") == 0 ? EVENT_LIFT
                                          : EVENT_WHEEL;
    send(p, ev);
}

static void play_gesture(struct play *p, const char *what, const char *rest)
{
    char from[REF_SIZE + 16] = "", to[REF_SIZE + 16] = "";
    int n = sscanf(rest, "%80s %80s", from, to);
    ck_assert_msg(n >= 1, "%s %s", what, rest);
    at_spot(p, EVENT_PRESS, from);
    if (n == 2)
        at_spot(p, EVENT_MOVE, to);
    if (strcmp(what, "grab") != 0)
        at_spot(p, EVENT_LIFT, n == 2 ? to : from);
}

static void play_size(struct play *p, const char *rest)
{
    int columns = 0, rows = 0;
    ck_assert_int_eq(sscanf(rest, "%dx%d", &columns, &rows), 2);
    p->ascii = strstr(rest, "ascii") != NULL;
    p->app->ascii = p->ascii;
    send(p, (struct event){.kind = EVENT_RESIZE, .column = columns, .row = rows});
}

static void play_keys(struct play *p, char *rest)
{
    char *state = NULL;
    for (char *k = strtok_r(rest, " ", &state); k; k = strtok_r(NULL, " ", &state))
        send_key(p, key_named(k));
}

static void play_line(struct play *p, char *line)
{
    char *rest = strchr(line, ' ');
    if (rest)
        *rest++ = '\0';
    else
        rest = line + strlen(line);
    if (strcmp(line, "venue") == 0)
        play_open(p, rest);
    else if (strcmp(line, "size") == 0)
        play_size(p, rest);
    else if (strcmp(line, "keys") == 0)
        play_keys(p, rest);
    else if (strcmp(line, "type") == 0)
        type_text(p, rest);
    else if (strcmp(line, "drag") == 0 || strcmp(line, "grab") == 0 || strcmp(line, "click") == 0)
        play_gesture(p, line, rest);
    else if (strcmp(line, "paste") == 0)
        send(p, (struct event){.kind = EVENT_PASTE, .text = rest});
    else if (strcmp(line, "press") == 0 || strcmp(line, "move") == 0 || strcmp(line, "lift") == 0 ||
             strcmp(line, "wheel") == 0)
        play_mouse(p, line, rest);
    else
        ck_abort_msg("no such event: %s", line);
}

void play(struct play *p, const char *lines)
{
    char *copy = mem_text(lines), *state = NULL;
    for (char *l = strtok_r(copy, "\n", &state); l; l = strtok_r(NULL, "\n", &state))
        if (*l != '#')
            play_line(p, l);
    mem_free(copy);
}

void play_world(struct play *p, const char *world)
{
    play_begin(p);
    app_open(p->app, booth_from(world), "world.json");
}

bool play_shows(const struct play *p, const char *text)
{
    return strstr(play_screen(p), text) != NULL;
}

bool play_tells(const struct play *p, const char *text)
{
    struct lines l = pane_lines(p->app);
    struct str all = {0};
    for (size_t i = 0; i < l.n; i++)
        str_addf(&all, "%s ", l.v[i].text + strspn(l.v[i].text, " "));
    bool found = strstr(str_text(&all), text) != NULL;
    str_clear(&all);
    lines_clear(&l);
    return found;
}

const struct booth *play_booth(const struct play *p)
{
    return app_booth(p->app);
}
