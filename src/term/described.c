/* The terminal's description, asked through curses' lower half. */
#include "term/described.h"

#include <curses.h>
#include <term.h>
#include <unistd.h>

const char *described_string(const char *name)
{
    const char *value = tigetstr(name);
    return value == (char *)-1 ? NULL : value;
}

bool described_type(const char *type, bool *moves)
{
    int status = 0;
    if (setupterm(type, STDOUT_FILENO, &status) != OK)
        return false;
    *moves = described_string("cup") != NULL;
    del_curterm(cur_term);
    return true;
}
