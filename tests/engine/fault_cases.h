/* What is found in which world: the table behind test_faults.c. */
#ifndef TESTS_ENGINE_FAULT_CASES_H
#define TESTS_ENGINE_FAULT_CASES_H

struct fault_case {
    const char *slug;
    const char *world; /* for booth_from() */
    const char *says;  /* a line for each finding of that slug, "subjects: sentence -> order", with
                          "(advice)" where no change does it; "" where there is none */
};

extern const struct fault_case fault_cases[]; /* the last has slug NULL */

#endif
