/* A folder of its own for each test that touches the disk. */
#ifndef TESTS_SUPPORT_SCRATCH_FILE_H
#define TESTS_SUPPORT_SCRATCH_FILE_H

#include <stdbool.h>
#include <sys/types.h>

/* Checked fixtures: make the folder, and remove it with all that is in it. */
void scratch_make(void);
void scratch_remove(void);

/* The path of name in the folder; "" is the folder. Up to eight results live at a time. */
const char *scratch(const char *name);

/* Writes the file called name, in place, with mode 0640; tells whether it holds just the text. */
void scratch_put(const char *name, const char *text);
bool scratch_holds(const char *name, const char *text);

/* Whether there is anything, be it a dangling link, of that name; its mode bits, without type. */
bool scratch_has(const char *name);
mode_t scratch_mode(const char *name);

/* How many names the folder holds, and how many descriptors this process. */
int scratch_count(void);
int scratch_descriptors(void);

/* A text of n times the letter, owned by the caller (mem_free()). */
char *scratch_text(char letter, size_t n);

#endif
