/* A fault is known again by its slug and its subjects: its sentence may change with the booth. */
#include "engine/spared.h"

#include <string.h>

#include "base/mem.h"
#include "model/shape.h"

static void say_fault(const struct fault *f, struct str *out)
{
    str_add(out, f->slug);
    for (size_t i = 0; i < f->subjects.n; i++)
        str_addf(out, " %s", f->subjects.v[i]);
}

static bool among(const struct texts *names, const struct fault *f)
{
    struct str name = {0};
    say_fault(f, &name);
    bool found = texts_find(names, str_text(&name)) >= 0;
    str_clear(&name);
    return found;
}

static void add_fault(struct texts *names, const struct fault *f)
{
    struct str name = {0};
    say_fault(f, &name);
    texts_add(names, str_text(&name));
    str_clear(&name);
}

void spared_errors(const struct faults *f, struct texts *out)
{
    for (size_t i = 0; i < f->count[SEVERITY_ERROR]; i++)
        add_fault(out, &f->v[i]);
}

/* Whether a fault names a host deck, or a thing. */
static bool is_about(const struct booth *b, const struct fault *f, const char *thing)
{
    for (size_t i = 0; i < f->subjects.n; i++)
        if (booth_deck(b, f->subjects.v[i]) || strcmp(f->subjects.v[i], thing) == 0)
            return true;
    return false;
}

void spared_note(struct spared *s, const struct texts *before, const struct faults *now,
                 const struct booth *b, const char *thing)
{
    for (size_t i = 0; i < now->count[SEVERITY_ERROR]; i++) {
        const struct fault *f = &now->v[i];
        if (!among(before, f) && (!thing || is_about(b, f, thing)))
            add_fault(&s->faults, f);
    }
}

static void add_all(struct texts *to, const struct texts *from)
{
    for (size_t i = 0; i < from->n; i++)
        if (texts_find(to, from->v[i]) < 0)
            texts_add(to, from->v[i]);
}

void spared_add(struct spared *s, const struct spared *other)
{
    add_all(&s->faults, &other->faults);
    add_all(&s->things, &other->things);
    if (other->instead)
        text_set(&s->instead, other->instead);
}

/* Whether a fault is first of all about what has died, or about a jack of it. */
static bool is_of_dead(const struct spared *s, const struct fault *f)
{
    char owner[ID_SIZE], jack[ID_SIZE];
    if (f->subjects.n == 0)
        return false;
    bool part = ref_split(f->subjects.v[0], owner, jack);
    return texts_find(&s->things, part ? owner : f->subjects.v[0]) >= 0;
}

bool spared_has_fault(const struct spared *s, const struct fault *f)
{
    return among(&s->faults, f) || is_of_dead(s, f);
}

bool spared_has_step(const struct spared *s, const char *id)
{
    const char *dash = strchr(id, '-');
    bool back = strncmp(id, "restore-", strlen("restore-")) == 0;
    return dash && !back && texts_find(&s->things, dash + 1) >= 0;
}

void spared_clear(struct spared *s)
{
    texts_clear(&s->faults);
    texts_clear(&s->things);
    text_set(&s->instead, NULL);
}
