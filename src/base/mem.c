/* Allocation that never returns NULL. The hook is the library's one object with a life at file
 * scope: running out of memory leaves no other way to reach the terminal. */
#include "base/mem.h"

#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void (*last_words)(void);

void mem_on_last_words(void (*hook)(void))
{
    last_words = hook;
}

static void out_of_memory(void)
{
    static const char sorry[] = "boothwright: out of memory\n";
    if (last_words)
        last_words();
    if (write(STDERR_FILENO, sorry, sizeof sorry - 1) < 0)
        _exit(1);
    _exit(1);
}

void *mem_alloc(size_t size)
{
    void *p = malloc(size ? size : 1);
    if (!p)
        out_of_memory();
    return p;
}

void *mem_new(size_t count, size_t size)
{
    void *p = calloc(count ? count : 1, size ? size : 1);
    if (!p)
        out_of_memory();
    return p;
}

char *mem_text(const char *text)
{
    if (!text)
        return NULL;
    size_t size = strlen(text) + 1;
    return memcpy(mem_alloc(size), text, size);
}

static size_t grown(size_t cap, size_t need)
{
#ifdef HARD
    (void)cap;
    return need;
#else
    size_t twice = cap ? cap * 2 : 8;
    return twice > need ? twice : need;
#endif
}

void *mem_grow(void *array, size_t *cap, size_t need, size_t size)
{
    if (need <= *cap)
        return array;
    size_t room = grown(*cap, need);
    assert(room <= SIZE_MAX / 4 / size);
    char *bigger = mem_new(room, size);
    if (array)
        memcpy(bigger, array, *cap * size);
    mem_free(array);
    *cap = room;
    return bigger;
}

void mem_free(void *p)
{
    free(p);
}
