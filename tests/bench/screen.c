/* screen EDITOR VENUE BARE: the editor on a venue in a terminal's window. How long it takes from
 * the start to the first whole frame, beside a bare curses program; what a step of a drag costs,
 * beside a repaint of everything; how much memory it takes. */
#include <stdio.h>

#ifdef HAVE_vterm
#include "bench/figures.h"
#include "bench/window.h"

enum {
    STARTS = 15,
    STEPS = 60,
    REPAINTS = 15,
    STARTED_MS = 150, /* silence after which the first frame counts as whole */
    SHOWN_MS = 25,    /* the same, after a step */
};

/* --- start ------------------------------------------------------------------------------------ */

/* Milliseconds from the start of a program to the last byte of its first frame. */
static double first_frame(char *const argv[])
{
    double runs[STARTS];
    for (int i = 0; i < STARTS; i++) {
        struct window w;
        double start = seconds_now();
        window_open(&w, argv);
        runs[i] = (window_settle(&w, STARTED_MS).last - start) * 1e3;
        window_close(&w);
    }
    return median(runs, STARTS);
}

static void bench_start(char *editor, char *venue, char *bare)
{
    char *ours[] = {editor, venue, NULL}, *theirs[] = {bare, NULL};
    double ms = first_frame(ours), beside = first_frame(theirs);
    puts("from the start to the first whole frame, 80 by 24 (x: beside the bare program)");
    figure("the editor, a venue of four players", ms, "ms", beside);
    figure("a bare curses program that fills the screen", beside, "ms", 0);
}

/* --- steps ------------------------------------------------------------------------------------ */

struct cost {
    double cpu, wait, bytes; /* microseconds; microseconds to the last byte; bytes sent */
};

/* What the program does on being sent bytes. */
static struct cost cost_of(struct window *w, const char *bytes)
{
    double cpu = window_cpu(w), start = seconds_now();
    window_type(w, bytes);
    struct answer a = window_settle(w, SHOWN_MS);
    return (struct cost){(window_cpu(w) - cpu) * 1e6, (a.last - start) * 1e6, (double)a.bytes};
}

static double more(double a, double b)
{
    return a > b ? a : b;
}

/* The dearest of each, which need not be one step. */
static struct cost dearest_cost(const struct cost *costs, int n)
{
    struct cost most = costs[0];
    for (int i = 1; i < n; i++)
        most = (struct cost){more(most.cpu, costs[i].cpu), more(most.wait, costs[i].wait),
                             more(most.bytes, costs[i].bytes)};
    return most;
}

static struct cost median_cost(const struct cost *costs, int n)
{
    double cpu[STEPS], wait[STEPS], bytes[STEPS];
    for (int i = 0; i < n; i++) {
        cpu[i] = costs[i].cpu;
        wait[i] = costs[i].wait;
        bytes[i] = costs[i].bytes;
    }
    return (struct cost){median(cpu, (size_t)n), median(wait, (size_t)n), median(bytes, (size_t)n)};
}

/* A report of the left button as terminals write it, at a column and a row from 0. */
static const char *report(int what, int x, int y, char end, char text[32])
{
    snprintf(text, 32, "\033[<%d;%d;%d%c", what, x + 1, y + 1, end);
    return text;
}

/* Takes the deck H1 and carries it to and fro over the strips, a column a step; puts it back. */
static bool drag(struct window *w, struct cost *step, struct cost *most)
{
    struct cost costs[STEPS];
    char text[32];
    int x, y, strip_x, strip_y;
    if (!window_find(w, "H1", false, &x, &y) || !window_find(w, "H1", true, &strip_x, &strip_y))
        return false;
    cost_of(w, report(0, x, y, 'M', text));
    cost_of(w, report(32, x + 1, y, 'M', text));
    for (int i = 0; i < STEPS; i++) {
        int along = i % 40 < 20 ? i % 40 : 40 - i % 40;
        costs[i] = cost_of(w, report(32, strip_x + along, strip_y, 'M', text));
    }
    *step = median_cost(costs, STEPS);
    *most = dearest_cost(costs, STEPS);
    cost_of(w, "\033");
    cost_of(w, report(0, strip_x, strip_y, 'm', text));
    return true;
}

static struct cost repaint(struct window *w)
{
    struct cost costs[REPAINTS];
    for (int i = 0; i < REPAINTS; i++)
        costs[i] = cost_of(w, "\f");
    return median_cost(costs, REPAINTS);
}

static int bench_steps(char *editor, char *venue)
{
    char *argv[] = {editor, venue, NULL};
    struct window w;
    struct cost step, most;
    window_open(&w, argv);
    window_settle(&w, STARTED_MS);
    bool dragged = drag(&w, &step, &most);
    struct cost all = repaint(&w);
    double peak = window_close(&w);
    if (!dragged) {
        puts("screen: no deck H1 was shown");
        return 1;
    }
    puts("a step of a drag, 80 by 24 (x: beside a repaint of everything)");
    figure("CPU time", step.cpu, "us", all.cpu);
    figure("CPU time, the dearest step", most.cpu, "us", all.cpu);
    figure("bytes to the terminal", step.bytes, "B", all.bytes);
    figure("bytes to the terminal, the dearest step", most.bytes, "B", all.bytes);
    figure("from the mouse's report to the last byte", step.wait, "us", all.wait);
    puts("a repaint of everything");
    figure("CPU time", all.cpu, "us", 0);
    figure("bytes to the terminal", all.bytes, "B", 0);
    puts("peak memory");
    figure("the editor, a venue of four players", peak, "KiB", 0);
    return 0;
}

int main(int argc, char **argv)
{
    if (argc != 4) {
        fprintf(stderr, "usage: screen EDITOR VENUE BARE\n");
        return 2;
    }
    bench_start(argv[1], argv[2], argv[3]);
    return bench_steps(argv[1], argv[2]);
}
#else
int main(void)
{
    puts("the editor on a terminal: skipped, needs libvterm");
    return 0;
}
#endif
