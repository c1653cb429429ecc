/* The life of the terminal: taken over, stopped and resumed, given back.
 *
 * What curses switches it also switches back; the mouse and bracketed pastes are switched here,
 * because curses asks for presses only, and no drag would be seen (modes 1002, 1006 and 2004 of
 * xterm's control sequences). Each mode goes out as a sequence of its own: some terminals obey
 * only the first of a list. On the way out of a crash curses cannot be called; for that everything
 * that gives the terminal back is written down when it is taken. */
#include "term/terminal.h"

#include <curses.h>
#include <errno.h>
#include <langinfo.h>
#include <locale.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <termios.h>
#include <unistd.h>

#include "base/utf8.h"
#include "term/aside.h"
#include "term/described.h"
#include "term/inside.h"
#include "term/watch.h"

static const char modes_on[] = "\033[?1002h\033[?1006h\033[?2004h";
static const char modes_off[] = "\033[?1002l\033[?1000l\033[?1006l\033[?2004l";

static SCREEN *screen;
static struct termios as_found;
static volatile sig_atomic_t taken; /* the terminal is not as it was found */
static char farewell[512];          /* what gives it back, without curses */
static size_t farewell_len;
static bool ascii, gone;

/* --- the locale ------------------------------------------------------------------------------- */

/* The name of the locale that the environment asks for (POSIX, chapter 8.2: the first that is
 * not empty). */
static const char *locale_wanted(void)
{
    static const char *const names[] = {"LC_ALL", "LC_CTYPE", "LANG"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        const char *value = getenv(names[i]);
        if (value && *value)
            return value;
    }
    return "";
}

static bool names_utf8(const char *locale)
{
    return strstr(locale, "UTF-8") || strstr(locale, "utf8") || strstr(locale, "UTF8") ||
           strstr(locale, "utf-8");
}

bool terminal_locale(void)
{
    if (!setlocale(LC_CTYPE, "") && names_utf8(locale_wanted()))
        setlocale(LC_CTYPE, "C.UTF-8");
    return strcmp(nl_langinfo(CODESET), "UTF-8") == 0;
}

/* --- taking it -------------------------------------------------------------------------------- */

static void tell(const char *bytes, size_t n)
{
    while (n > 0) {
        ssize_t k = write(STDOUT_FILENO, bytes, n);
        if (k < 0 && errno != EINTR)
            return;
        bytes += k > 0 ? k : 0;
        n -= k > 0 ? (size_t)k : 0;
    }
}

static bool is_terminal(struct err *e)
{
    if (isatty(STDIN_FILENO) && isatty(STDOUT_FILENO))
        return true;
    return err_set(e, ERR_USAGE, NULL,
                   "the editor needs a terminal, and standard %s is not one; "
                   "to work without, name a verb (see --help)",
                   isatty(STDIN_FILENO) ? "output" : "input");
}

static const char *type_chosen(struct err *e)
{
    const char *type = getenv("TERM"), *usual = "xterm-256color";
    bool moves = false;
    if (!type || !*type || !described_type(type, &moves))
        type = described_type(usual, &moves) ? usual : type;
    if (moves)
        return type;
    struct str shown = {0};
    utf8_safe(&shown, type ? type : "", 40, true);
    err_set(e, ERR_USAGE, NULL,
            "the editor cannot move the cursor on this terminal (TERM is \"%s\"); "
            "set TERM to its true type, or name a verb to work without (see --help)",
            str_text(&shown));
    str_clear(&shown);
    return NULL;
}

/* Appends a capability to the farewell, leaving out its marks for padding, "$<5>". */
static void farewell_add(const char *bytes)
{
    while (bytes && *bytes && farewell_len < sizeof farewell) {
        const char *end = strncmp(bytes, "$<", 2) == 0 ? strchr(bytes, '>') : NULL;
        if (end)
            bytes = end + 1;
        else
            farewell[farewell_len++] = *bytes++;
    }
}

static void farewell_write(void)
{
    static const char *const names[] = {"sgr0", "rmkx", "rmcup", "cnorm"};
    farewell_len = 0;
    farewell_add(modes_off);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        farewell_add(described_string(names[i]));
    farewell_add("\r\n");
}

static int clamp(int n, int low, int high)
{
    return n < low ? low : n > high ? high : n;
}

/* The size of the window, within what grids can be; false when it has none, as a serial line. */
static bool window_size(int *columns, int *rows)
{
    struct winsize w = {0};
    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &w) != 0 || !w.ws_row || !w.ws_col)
        return false;
    *columns = clamp(w.ws_col, 1, 1000);
    *rows = clamp(w.ws_row, 1, 500);
    return true;
}

/* Opens the screen in a size that was checked: curses would believe anything that LINES and
 * COLUMNS say, and fill a window of any size. */
static SCREEN *new_screen(const char *type)
{
    int columns = 0, rows = 0;
    char number[16];
    unsetenv("COLUMNS");
    unsetenv("LINES");
    if (window_size(&columns, &rows)) {
        snprintf(number, sizeof number, "%d", columns);
        setenv("COLUMNS", number, 1);
        snprintf(number, sizeof number, "%d", rows);
        setenv("LINES", number, 1);
    }
    SCREEN *made = newterm(type, stdout, stdin);
    unsetenv("COLUMNS");
    unsetenv("LINES");
    return made;
}

static int escape_ms(void)
{
    const char *text = getenv("ESCDELAY");
    long ms = text ? strtol(text, NULL, 10) : 0;
    return ms >= 1 && ms <= 10000 ? (int)ms : 25;
}

static void take_screen(void)
{
    raw();
    noecho();
    nonl();
    intrflush(stdscr, FALSE);
    keypad(stdscr, TRUE);
    typeahead(-1);
    curs_set(0);
    tell(modes_on, sizeof modes_on - 1);
}

bool terminal_open(struct terminal_setup setup, struct err *e)
{
    ascii = !terminal_locale() || setup.ascii;
    const char *type = is_terminal(e) ? type_chosen(e) : NULL;
    if (!type || !watch_start(terminal_abandon, e))
        return false;
    tcgetattr(STDIN_FILENO, &as_found);
    screen = new_screen(type);
    if (!screen) {
        watch_stop();
        return err_set(e, ERR_USAGE, NULL, "the terminal cannot be set up");
    }
    farewell_write();
    taken = 1;
    gone = false;
    aside_start();
    take_screen();
    output_start(setup.mono);
    input_start(escape_ms());
    return true;
}

/* --- size, stopping, resuming ----------------------------------------------------------------- */

void tty_measure(void)
{
    int columns = COLS, rows = LINES;
    if (window_size(&columns, &rows))
        resize_term(rows, columns);
    clearok(curscr, TRUE);
}

int terminal_columns(void)
{
    return COLS;
}

int terminal_rows(void)
{
    return LINES;
}

bool terminal_ascii(void)
{
    return ascii;
}

static void give_screen(void)
{
    tell(modes_off, sizeof modes_off - 1);
    endwin();
    /* once more, for some terminals give back the cursor that they had with the other screen */
    const char *shown = described_string("cnorm");
    if (shown) {
        putp(shown);
        fflush(stdout);
    }
}

static void retake_screen(void)
{
    reset_prog_mode();
    clearok(curscr, TRUE);
    tell(modes_on, sizeof modes_on - 1);
}

void terminal_suspend(void)
{
    give_screen();
    watch_stop_here();
    retake_screen();
    input_news();
}

void tty_retake(void)
{
    give_screen(); /* whoever had it meanwhile may have left it half ours */
    retake_screen();
}

/* --- giving it back --------------------------------------------------------------------------- */

void tty_gone(void)
{
    gone = true;
}

int terminal_ended(void)
{
    return gone ? SIGHUP : watch_end();
}

void terminal_close(void)
{
    if (!screen)
        return;
    if (taken)
        give_screen();
    taken = 0;
    delscreen(screen);
    screen = NULL;
    input_stop();
    watch_stop();
    aside_stop();
}

void terminal_abandon(void)
{
    if (!taken)
        return;
    taken = 0;
    tell(farewell, farewell_len);
    tcsetattr(STDIN_FILENO, TCSANOW, &as_found);
    aside_say();
}
