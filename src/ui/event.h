/* What happens to the editor, as plain values: a key, the mouse, a new size, a paste.
 *
 * The terminal makes them (term/input.c), tests write them down, app_update() takes them. */
#ifndef UI_EVENT_H
#define UI_EVENT_H

enum event_kind {
    EVENT_NONE,   /* nothing but time has passed */
    EVENT_KEY,    /* key: a Unicode code point, or one of enum key */
    EVENT_PRESS,  /* mouse: button went down at column, row (from 0) */
    EVENT_MOVE,   /* mouse: moved to column, row while a button is held */
    EVENT_LIFT,   /* mouse: button went up */
    EVENT_WHEEL,  /* mouse: key is -1 (up) or +1 (down) */
    EVENT_RESIZE, /* column, row: the new size of the window, in cells */
    EVENT_PASTE,  /* text: what was pasted, NUL-terminated; borrowed until app_update() returns */
};

/* Keys without a code point of their own; the others are their code point. Control keys are the
 * code points 1 to 26. */
enum key {
    K_TAB = 9,
    K_ENTER = 13,
    K_ESC = 27,
    K_BACKSPACE = 127,
    K_UP = 0x110000,
    K_DOWN,
    K_LEFT,
    K_RIGHT,
    K_SHIFT_UP,
    K_SHIFT_DOWN,
    K_SHIFT_LEFT,
    K_SHIFT_RIGHT,
    K_HOME,
    K_END,
    K_PAGE_UP,
    K_PAGE_DOWN,
    K_INSERT,
    K_DELETE,
    K_BACKTAB,
    K_F1, /* K_F1 + 1 to K_F1 + 11 are F2 to F12 */
};

#define K_CTRL(letter) ((letter)&0x1f)

struct event {
    enum event_kind kind;
    int key;
    int column, row;
    int button; /* 1 left, 2 middle, 3 right */
    const char *text;
};

#endif
