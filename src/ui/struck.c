/* Two lists in step: a name for the search, a sentence for the pane. */
#include "ui/struck.h"

#include <string.h>

#include "base/mem.h"
#include "engine/basis.h"
#include "model/shape.h"

void struck_follow(struct struck *s, const struct booth *b)
{
    struct str basis = {0};
    basis_make(b, &basis);
    if (!s->basis || strcmp(s->basis, basis.text) != 0) {
        struck_clear(s);
        text_set(&s->basis, basis.text);
    }
    str_clear(&basis);
}

void struck_add(struct struck *s, const struct diagnosis *d, size_t i)
{
    struct str name = {0}, says = {0};
    causes_name(d->believed, d->v[i].causes, d->v[i].n, &name);
    explanation_say(d, i, &says);
    const char *percent_ends = strstr(str_text(&says), ": ");
    texts_add(&s->names, name.text);
    texts_add(&s->says, percent_ends ? percent_ends + 2 : name.text);
    str_clear(&name);
    str_clear(&says);
}

void struck_take_back(struct struck *s, size_t i)
{
    texts_remove(&s->names, i);
    texts_remove(&s->says, i);
}

void struck_clear(struct struck *s)
{
    texts_clear(&s->names);
    texts_clear(&s->says);
    mem_free(s->basis);
    s->basis = NULL;
}
