/* The end of every test program: run the suites, print Check's closing lines. */
#ifndef TESTS_SUPPORT_RUN_H
#define TESTS_SUPPORT_RUN_H

#include <check.h>

/* Runs and frees r; returns the program's exit status. */
int run_suites(SRunner *r);

#endif
