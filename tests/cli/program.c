/* Its streams are files without a name, so that neither side can wait for the other. */
#include "cli/program.h"

#include <check.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/mem.h"

static int nameless(void)
{
    char path[] = "/tmp/boothwright-XXXXXX";
    int fd = mkstemp(path);
    ck_assert_msg(fd >= 0, "no temporary file");
    unlink(path);
    return fd;
}

static struct str bytes_of(int fd)
{
    struct str s = {0};
    char part[4096];
    lseek(fd, 0, SEEK_SET);
    for (ssize_t n; (n = read(fd, part, sizeof part)) > 0;)
        str_addn(&s, part, (size_t)n);
    close(fd);
    return s;
}

struct str program_file(const char *path)
{
    int fd = open(path, O_RDONLY);
    return fd < 0 ? (struct str){0} : bytes_of(fd);
}

static char *program_path(void)
{
    const char *named = getenv("BOOTHWRIGHT");
    char *path = realpath(named ? named : "build/plain/boothwright", NULL);
    ck_assert_msg(path != NULL, "the program is not built");
    return path;
}

/* In the child: never returns. */
static void become(const struct program *p, char **argv, const int streams[3])
{
    for (int i = 0; i < 3; i++)
        dup2(streams[i], i);
    unsetenv("TERM");
    setenv("LC_ALL", p->locale ? p->locale : "C.UTF-8", 1);
    if (chdir("tests/cli") == 0)
        execv(argv[0], argv);
    _exit(127);
}

static void start_and_wait(struct program *p, char **argv, const int streams[3])
{
    int status = 0;
    pid_t child = fork();
    if (child == 0)
        become(p, argv, streams);
    ck_assert(child > 0 && waitpid(child, &status, 0) == child);
    p->status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

void program_run(struct program *p, char *const *arguments, size_t n)
{
    char **argv = mem_new(n + 2, sizeof *argv);
    argv[0] = program_path();
    if (n)
        memcpy(argv + 1, arguments, n * sizeof *argv);
    int streams[3] = {open(p->input ? p->input : "/dev/null", O_RDONLY),
                      p->output ? p->output : nameless(), nameless()};
    ck_assert_msg(streams[0] >= 0, "no input %s", p->input);
    start_and_wait(p, argv, streams);
    close(streams[0]);
    if (!p->output)
        p->out = bytes_of(streams[1]);
    p->err = bytes_of(streams[2]);
    free(argv[0]);
    mem_free(argv);
}

void program_clear(struct program *p)
{
    str_clear(&p->out);
    str_clear(&p->err);
}
