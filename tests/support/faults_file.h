/* Makes the system's calls fail, one by one.
 *
 * The linker puts these in the way (--wrap): while off they only pass on. The Makefile lists the
 * calls; where the linker cannot do it, faults_linked() is false and there is nothing to test. */
#ifndef TESTS_SUPPORT_FAULTS_FILE_H
#define TESTS_SUPPORT_FAULTS_FILE_H

#include <stdbool.h>
#include <stddef.h>

struct faults {
    long fails;                       /* this call fails, counted from 1; 0: none does */
    int with;                         /* with this errno */
    bool for_ever;                    /* so do all that come after it */
    const char *call;                 /* only calls of this name are counted; NULL: all */
    size_t at_most;                   /* bytes that one write() takes; 0: all it is given */
    void (*before)(const char *call); /* called before each call that counts, with faults off */
};

/* What happened while they were on. */
struct faults_seen {
    long calls;         /* that counted */
    const char *failed; /* the first made to fail that must not end in "saved", or NULL */
    bool hasty;         /* a file was put in place before it was on the disk */
    bool folder_synced; /* the folder was synced after the last change of its names */
};

bool faults_linked(void);
void faults_on(struct faults f);
struct faults_seen faults_off(void);

#endif
