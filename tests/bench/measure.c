/* measure RUNS PROGRAM [ARGUMENT...]: runs a program several times with its output thrown away, and
 * prints the median of its time in seconds, of its CPU time in seconds, and of its peak memory in
 * KiB, parted by blanks. Whatever the program returns is fine, as long as it could be started and
 * no signal ended it. */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/time.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench/figures.h"

enum { RUNS_MAX = 99, NOT_STARTED = 127 };

static double seconds_of(struct timeval t)
{
    return (double)t.tv_sec + (double)t.tv_usec / 1e6;
}

static void become(char **argv)
{
    int nowhere = open("/dev/null", O_WRONLY);
    dup2(nowhere, STDOUT_FILENO);
    execvp(argv[0], argv);
    perror(argv[0]);
    _exit(NOT_STARTED);
}

/* One run; false when it failed. */
static int run(char **argv, double *wall, double *cpu, double *peak)
{
    struct rusage used;
    int status = 0;
    double start = seconds_now();
    pid_t pid = fork();
    if (pid == 0)
        become(argv);
    if (pid < 0 || wait4(pid, &status, 0, &used) != pid)
        return 0;
    *wall = seconds_now() - start;
    *cpu = seconds_of(used.ru_utime) + seconds_of(used.ru_stime);
    *peak = (double)used.ru_maxrss;
    return WIFEXITED(status) && WEXITSTATUS(status) != NOT_STARTED;
}

int main(int argc, char **argv)
{
    double wall[RUNS_MAX], cpu[RUNS_MAX], peak[RUNS_MAX];
    int runs = argc > 2 ? atoi(argv[1]) : 0;
    if (runs < 1 || runs > RUNS_MAX) {
        fprintf(stderr, "usage: measure RUNS PROGRAM [ARGUMENT...]\n");
        return 2;
    }
    for (int i = 0; i < runs; i++)
        if (!run(argv + 2, &wall[i], &cpu[i], &peak[i]))
            return 1;
    size_t n = (size_t)runs;
    printf("%.6f %.6f %.0f\n", median(wall, n), median(cpu, n), median(peak, n));
    return 0;
}
