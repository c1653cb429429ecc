#include "support/leads.h"

#include <string.h>

#include "engine/usb.h"
#include "model/change.h"

static bool arrives(const struct booth *b, const struct plug *p, const char *dead)
{
    while (booth_hub(b, p->at)) {
        if (dead && strcmp(p->at, dead) == 0)
            return false;
        p = &booth_hub(b, p->at)->plugged;
    }
    return strcmp(p->at, "host") == 0 || strcmp(p->at, "built-in") == 0;
}

/* Whether others use it, or what hangs on a hub on its way. */
static bool held(const struct booth *b, const char *id)
{
    const struct plug *p = usb_plug(b, id);
    struct change pull = change_of(CHANGE_PLUG, id, NULL);
    return change_touches_in_use(b, &pull) || (booth_hub(b, p->at) && held(b, p->at));
}

static bool brings_hub(const struct plan *p)
{
    for (size_t i = 0; i < p->bag.n; i++)
        if (strstr(p->bag.v[i], "no port is free"))
            return true;
    return false;
}

const char *lead_astray(const struct booth *before, const struct plan *plan, const char *dead)
{
    const struct booth *after = plan->after;
    for (size_t i = 0; i < after->joined.n && !brings_hub(plan); i++) {
        const char *id = after->joined.v[i];
        const struct plug *p = usb_plug(after, id), *was = usb_plug(before, id);
        bool stood = strcmp(p->at, was->at) == 0 && p->port == was->port &&
                     usb_port_wrong(before, was);
        if ((dead && strcmp(id, dead) == 0) || held(before, id))
            continue;
        if (!arrives(after, p, dead) || (!stood && usb_port_wrong(after, p)))
            return id;
    }
    return NULL;
}
