/* The editor on a terminal for tests, and its twin without one. */
#ifdef HAVE_vterm
#include "tty/editor.h"

#include <check.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/utf8.h"
#include "file/disk.h"
#include "file/venue.h"
#include "support/scratch_file.h"
#include "support/venue_file.h"

struct pty editor;
struct play twin;

/* --- the twin's events as the terminal's ------------------------------------------------------ */

static const struct {
    int key;
    VTermKey as;
} keys[] = {{K_ENTER, VTERM_KEY_ENTER},    {K_TAB, VTERM_KEY_TAB},
            {K_ESC, VTERM_KEY_ESCAPE},     {K_BACKSPACE, VTERM_KEY_BACKSPACE},
            {K_UP, VTERM_KEY_UP},          {K_DOWN, VTERM_KEY_DOWN},
            {K_LEFT, VTERM_KEY_LEFT},      {K_RIGHT, VTERM_KEY_RIGHT},
            {K_HOME, VTERM_KEY_HOME},      {K_END, VTERM_KEY_END},
            {K_PAGE_UP, VTERM_KEY_PAGEUP}, {K_PAGE_DOWN, VTERM_KEY_PAGEDOWN},
            {K_DELETE, VTERM_KEY_DEL}};

static void send_key(int key)
{
    struct str bytes = {0};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        if (keys[i].key == key) {
            pty_key(&editor, keys[i].as, VTERM_MOD_NONE);
            return;
        }
    utf8_add(&bytes, (uint32_t)key);
    pty_send(&editor, str_text(&bytes));
    str_clear(&bytes);
}

static void send_mouse(const struct event *ev)
{
    pty_move(&editor, ev->column, ev->row);
    if (ev->kind == EVENT_WHEEL)
        pty_button(&editor, ev->key < 0 ? 4 : 5, true);
    else if (ev->kind != EVENT_MOVE)
        pty_button(&editor, ev->button, ev->kind == EVENT_PRESS);
}

static void to_terminal(const struct event *ev)
{
    if (ev->kind == EVENT_KEY)
        send_key(ev->key);
    else if (ev->kind == EVENT_PASTE)
        pty_paste(&editor, ev->text);
    else if (ev->kind == EVENT_RESIZE)
        pty_resize(&editor, ev->column, ev->row);
    else
        send_mouse(ev);
}

/* --- starting --------------------------------------------------------------------------------- */

static char venues_at[600], state_at[600], home_at[600];

void editor_fixture(void)
{
    struct str hall = file_bytes("venues/tideline-hall.json");
    scratch_make();
    scratch_put("hall.json", str_text(&hall));
    str_clear(&hall);
    ck_assert_int_eq(mkdir(scratch("venues"), 0755), 0);
    ck_assert_int_eq(mkdir(scratch("state"), 0755), 0);
    snprintf(venues_at, sizeof venues_at, "BOOTHWRIGHT_VENUES=%s", scratch("venues"));
    snprintf(state_at, sizeof state_at, "XDG_STATE_HOME=%s", scratch("state"));
    snprintf(home_at, sizeof home_at, "HOME=%s", scratch(""));
    play_begin(&twin);
    twin.ascii = twin.app->ascii = false;
}

void editor_fixture_end(void)
{
    play_end(&twin);
    scratch_remove();
}

static void copy_program(const char *from, const char *to)
{
    struct str command = {0};
    str_addf(&command, "cp '%s' '%s' && chmod 755 '%s'", from, to, to);
    ck_assert_int_eq(system(str_text(&command)), 0);
    str_clear(&command);
}

static void give_away(const char *name)
{
    ck_assert_int_eq(chown(scratch(name), PTY_NOBODY, PTY_NOBODY), 0);
}

/* Nobody needs a program that he can reach, and a folder of his own. */
static void prepare_nobody(char *program, size_t size)
{
    copy_program(program, scratch("program"));
    snprintf(program, size, "%s", scratch("program"));
    if (geteuid() == 0) {
        give_away("");
        give_away("state");
        give_away("hall.json");
    }
}

void editor_start(struct editor_start how)
{
    const char *path = getenv("BOOTHWRIGHT");
    char program[1024], option[64], file[1024], sh[] = "/bin/sh", dash_c[] = "-c", line[256];
    char *argv[8] = {program};
    size_t n = 1;
    ck_assert_msg(path != NULL, "BOOTHWRIGHT does not name the program");
    snprintf(program, sizeof program, "%s", path);
    snprintf(option, sizeof option, "%s", how.option ? how.option : "");
    snprintf(file, sizeof file, "%s", how.file ? scratch(how.file) : "");
    snprintf(line, sizeof line, "%s; exec \"$0\" \"$@\"", how.before ? how.before : "");
    if (how.as_nobody)
        prepare_nobody(program, sizeof program);
    if (how.before) {
        argv[0] = sh, argv[1] = dash_c, argv[2] = line, argv[3] = program;
        n = 4;
    }
    if (how.option)
        argv[n++] = option;
    if (how.file)
        argv[n++] = file;
    struct pty_setup setup = {
        .argv = argv,
        .columns = how.columns,
        .rows = how.rows,
        .env = {venues_at, state_at, home_at, how.env[0], how.env[0] ? how.env[1] : NULL},
        .as_nobody = how.as_nobody};
    pty_start(how.in ? how.in : &editor, &setup);
    twin.app->columns = how.columns ? how.columns : APP_COLUMNS;
    twin.app->rows = how.rows ? how.rows : APP_ROWS;
}

void editor_twin(const char *file)
{
    play_open(&twin, scratch(file));
    twin.also = to_terminal;
    editor_same();
}

void editor_open(void)
{
    editor_start((struct editor_start){.file = "hall.json"});
    editor_twin("hall.json");
}

/* --- the same on both ------------------------------------------------------------------------- */

static bool rows_are_the_same(const struct pty *p)
{
    char row[PTY_ROW];
    const char *want = play_screen(&twin);
    for (int y = 0; y < p->rows; y++) {
        size_t n = strcspn(want, "\n"), got = strlen(pty_row(p, y, row));
        while (got && row[got - 1] == ' ')
            got--;
        if (got != n || memcmp(want, row, n) != 0)
            return false;
        want += n + (want[n] == '\n');
    }
    return true;
}

void editor_same(void)
{
    struct str what = {0};
    str_addf(&what, "the twin's screen\n%s", play_screen(&twin));
    pty_until(&editor, rows_are_the_same, str_text(&what));
    str_clear(&what);
}

void editor_play(const char *lines)
{
    char *copy = mem_text(lines), *state = NULL;
    for (char *l = strtok_r(copy, "\n", &state); l; l = strtok_r(NULL, "\n", &state)) {
        play(&twin, l);
        if (twin.effect == EFFECT_SAVE) {
            app_saved(twin.app, twin.app->path);
            app_say(twin.app, false, "saved to %s", twin.app->path);
        }
        editor_same();
    }
    mem_free(copy);
}

void editor_says(bool complaint, const char *fmt, ...)
{
    char text[2048];
    va_list args;
    va_start(args, fmt);
    vsnprintf(text, sizeof text, fmt, args);
    va_end(args);
    app_say(twin.app, complaint, "%s", text);
    editor_same();
}

void editor_type(const char *bytes, const char *shown)
{
    pty_send(&editor, bytes);
    pty_until_shown(&editor, shown);
}

/* --- ending ----------------------------------------------------------------------------------- */

void editor_ends(int status)
{
    int how = pty_until_ended(&editor);
    ck_assert_msg(WIFEXITED(how), "ended by %x", (unsigned)how);
    ck_assert_int_eq(WEXITSTATUS(how), status);
    ck_assert(pty_is_as_before(&editor));
    pty_free(&editor);
}

void editor_kill(void)
{
    pty_signal(&editor, SIGKILL);
    pty_until_ended(&editor);
    pty_free(&editor);
}

struct booth *editor_booth_in(const char *file)
{
    struct str bytes = file_bytes(scratch(file));
    struct err e;
    struct booth *b = venue_read(str_text(&bytes), bytes.len, &e);
    ck_assert_msg(b != NULL, "%s: %s %s", file, e.place, e.says);
    str_clear(&bytes);
    return b;
}

void editor_file_is_twin(const char *file)
{
    struct str want = {0}, got = file_bytes(scratch(file));
    venue_write(app_booth(twin.app), &want);
    ck_assert_str_eq(str_text(&got), str_text(&want));
    str_clear(&want);
    str_clear(&got);
}
#else
enum { NO_EDITOR }; /* a file is not to be empty */
#endif
