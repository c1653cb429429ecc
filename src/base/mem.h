/* Memory that is there or ends the program: no caller tests for NULL.
 *
 * When memory runs out, the one last-words hook is called (the editor restores the terminal and
 * leaves the work in its journal), then the program ends with status 1. */
#ifndef BASE_MEM_H
#define BASE_MEM_H

#include <stddef.h>

/* count * size zeroed bytes; never NULL, also for 0. Free with mem_free(). */
void *mem_new(size_t count, size_t size);

/* A copy of text (NULL stays NULL). Free with mem_free(). */
char *mem_text(const char *text);

/* Makes room for at least need items of the given size in an array with room for *cap; returns
 * the (perhaps moved) array. The new items are zeroed. In the hard build it grows by exactly what
 * is asked and always moves, so that a stale pointer shows at once. */
void *mem_grow(void *array, size_t *cap, size_t need, size_t size);

/* Frees what the functions above gave; NULL is allowed. */
void mem_free(void *p);

/* Plain allocators of the same kind, for a library's hooks. */
void *mem_alloc(size_t size);

/* The hook that mem.c calls once, before it ends the program; NULL for none. Not thread-safe. */
void mem_on_last_words(void (*hook)(void));

#endif
