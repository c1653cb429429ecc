#include "support/records.h"

#include "base/mem.h"

void *add_record(const struct shape *owner, void *record, const char *key)
{
    const struct field *f = shape_field(owner, key);
    void *list = field_in(f, record), *fresh = mem_new(1, f->shape->size);
    record_init(f->shape, fresh);
    size_t n = records_count(list);
    records_splice(f, list, n, 0, fresh, 1);
    record_clear(f->shape, fresh);
    mem_free(fresh);
    return records_at(f, list, n);
}
