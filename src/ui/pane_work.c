/* What a plan asks of hands, as the panes list it under the plan's or the way back's name. */
#include "model/say.h"
#include "ui/pane.h"

void pane_bring_lines(const struct plan *p, int item, struct lines *out)
{
    for (size_t i = 0; i < p->bag.n; i++)
        lines_addf(out, item, LOOK_NOTE, 9, "   bring %s", p->bag.v[i]);
}

void pane_work_lines(const struct plan *p, bool minutes, int item, struct lines *out)
{
    for (size_t i = 0; i < p->n; i++) {
        struct str head = {0};
        say_minutes(p->actions[i].minutes, &head);
        str_add(&head, "  ");
        lines_addf(out, item, LOOK_PLAIN, minutes ? 9 : 5, "   %s%s",
                   minutes ? str_text(&head) : "- ", p->actions[i].text);
        str_clear(&head);
    }
}

void pane_advice_lines(const struct plan *p, int item, struct lines *out)
{
    for (size_t i = 0; i < p->advice.n; i++)
        lines_addf(out, item, LOOK_NOTE, 8, "   also %s", p->advice.v[i]);
}
