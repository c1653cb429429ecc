/* The editor itself on a terminal for tests, and its twin: the same app without a terminal, which
 * is told the same events. What the terminal shows must be what the twin draws, cell by cell. */
#ifndef TTY_EDITOR_H
#define TTY_EDITOR_H

#include "support/play_file.h"
#include "tty/pty.h"

/* The ones that run; each test has a process of its own. */
extern struct pty editor;
extern struct play twin;

/* Checked fixtures: a scratch folder (see scratch_file.h) with the folders "venues" and "state", a
 * copy of venues/tideline-hall.json as hall.json, and the twin at 80x24. */
void editor_fixture(void);
void editor_fixture_end(void);

/* How it is started; all zero: alone, 80x24. */
struct editor_start {
    const char *file; /* in the scratch folder, or NULL */
    const char *option;
    int columns, rows;
    const char *env[3];
    const char *before; /* what a shell does before it becomes the editor */
    bool as_nobody;     /* as pty.h has it; the scratch folder is given to that user */
    struct pty *in;     /* NULL: in the global one */
};

/* Starts it, without waiting for anything. The file of the last start may be opened again. */
void editor_start(struct editor_start how);

/* Starts it at 80x24 on hall.json, opens the twin on it, too, and waits until both show the same.
 */
void editor_open(void);

/* Opens the twin on a file of the scratch folder, and waits until both show the same. */
void editor_twin(const char *file);

/* Plays lines (see play_file.h) in both, line by line, and waits after each until both show the
 * same. A line that ends in a save must be one that goes well. */
void editor_play(const char *lines);

/* Waits until both show the same; with a message that the twin cannot know of by itself. */
void editor_same(void);
void editor_says(bool complaint, const char *fmt, ...) __attribute__((format(printf, 2, 3)));

/* Types bytes to the editor alone, and waits for a text. */
void editor_type(const char *bytes, const char *shown);

/* Waits for its end: the status that it ends with, and the terminal as it was before. */
void editor_ends(int status);

/* Kills it as nothing can be caught. */
void editor_kill(void);

/* Fails the test unless the file holds the twin's booth; the booth that it holds (booth_free()). */
void editor_file_is_twin(const char *file);
struct booth *editor_booth_in(const char *file);

#endif
