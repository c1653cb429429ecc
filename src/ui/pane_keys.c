/* All keys, from their table. */
#include <string.h>

#include "ui/keymap.h"
#include "ui/pane.h"

void pane_keys_lines(const struct app *a, struct lines *out)
{
    const char *group = "";
    const struct key_row *row;
    (void)a;
    for (size_t i = 0; (row = keymap_row(i)); i++) {
        if (!row->name)
            continue;
        if (strcmp(group, row->group) != 0)
            lines_add(out, -1, LOOK_TITLE, 0, row->group);
        group = row->group;
        lines_addf(out, -1, LOOK_PLAIN, 8, "%-7s %s", row->name, row->help);
    }
    lines_add(out, -1, LOOK_TITLE, 0, "Mouse");
    lines_add(out, -1, LOOK_PLAIN, 2,
              "drag a deck to a strip or onto another deck; a jack to a "
              "jack; a player to another's place");
    lines_add(out, -1, LOOK_PLAIN, 2, "click an input's word, a source, a fault, a step");
    lines_add(out, -1, LOOK_PLAIN, 2, "the wheel scrolls; shift and drag is the terminal's own");
}
