/* Files are named after the deck's number and id, so that they sort as the decks do. */
#include "cli/write_ident.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/utf8.h"
#include "cli/ident_asked.h"
#include "cli/load.h"
#include "cli/say.h"
#include "file/disk.h"
#include "file/wav.h"

struct job {
    const char *folder; /* NULL: the current one */
    enum ident kind;
    int rate_hz;
};

/* A whole file in memory. */
struct sound_file {
    char *bytes;
    size_t n;
};

static struct sound_file make_sound(const struct job *job, int number)
{
    int64_t frames = ident_frames(job->kind, number, job->rate_hz);
    struct sound_file f = {.n = WAV_HEADER + (size_t)frames * WAV_FRAME};
    f.bytes = mem_new(f.n, 1);
    wav_header(f.bytes, job->rate_hz, frames);
    for (int64_t i = 0; i < frames; i++) {
        int32_t sample[2];
        ident_frame(job->kind, number, job->rate_hz, i, sample);
        wav_frame(f.bytes + WAV_HEADER + i * WAV_FRAME, sample);
    }
    return f;
}

/* Whether an open file holds just these bytes. */
static bool holds(int fd, const struct sound_file *wav)
{
    struct str there = {0};
    bool same = disk_read_all(fd, wav->n, &there) == 0 && there.len == wav->n &&
                memcmp(str_text(&there), wav->bytes, wav->n) == 0;
    str_clear(&there);
    return same;
}

/* What is there already: the same sound, or something that is not ours to lose. */
static bool look_at_old(const char *path, const struct sound_file *wav, struct err *e)
{
    int fd = open(path, O_RDONLY | O_NONBLOCK | O_CLOEXEC);
    bool same = fd >= 0 && holds(fd, wav);
    if (fd >= 0)
        close(fd);
    return same || err_set(e, ERR_CHANGED, path,
                           "is there already and holds something else; move it away, or write "
                           "with --into another folder");
}

static bool write_new(const char *path, const struct sound_file *wav, struct err *e)
{
    int fd = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (fd < 0 && errno == EEXIST)
        return look_at_old(path, wav, e);
    if (fd < 0)
        return err_set(e, ERR_WRITE, path, "cannot be written: %s", strerror(errno));
    int why = disk_write_all(fd, wav->bytes, wav->n);
    if (close(fd) < 0 && !why)
        why = errno;
    if (!why)
        return true;
    unlink(path);
    return err_set(e, ERR_WRITE, path, "cannot be written: %s", strerror(why));
}

static int write_deck(const struct job *job, const struct booth *b, size_t deck, struct str *out)
{
    struct str path = {0};
    struct err e;
    int number = (int)deck + 1;
    if (job->folder)
        str_addf(&path, "%s/", job->folder);
    str_addf(&path, "%02d-%s.wav", number, b->decks.v[deck].id);
    struct sound_file wav = make_sound(job, number);
    int status = 0;
    if (write_new(str_text(&path), &wav, &e)) {
        int64_t tenths = ident_frames(job->kind, number, job->rate_hz) * 10 / job->rate_hz;
        str_addf(out, "%s  ", str_text(&path));
        utf8_safe(out, b->decks.v[deck].label, -1, say_ascii());
        str_addf(out, ", %d.%d s\n", (int)(tenths / 10), (int)(tenths % 10));
    } else {
        status = say_error(str_text(&path), &e);
    }
    str_clear(&path);
    mem_free(wav.bytes);
    return status;
}

static bool read_job(const struct arguments *a, const struct booth *b, struct job *job,
                     struct err *e)
{
    job->folder = arguments_value(a, OPTION_INTO);
    job->kind = ident_asked_kind(a);
    if (!ident_asked_rate(a, b, &job->rate_hz, e))
        return false;
    if (!job->rate_hz)
        job->rate_hz = 48000;
    if (a->options & OPTION_LEVEL)
        return err_set(e, ERR_USAGE, NULL, "--level goes with --play: a file has one level");
    bool all = a->options & OPTION_ALL;
    if (all == (a->n == 2))
        return err_set(e, ERR_USAGE, NULL, "it is: boothwright ident FILE DECK, or FILE --all");
    return true;
}

static int write_decks(const struct arguments *a, const struct booth *b, struct str *out)
{
    struct job job;
    struct err e;
    if (!read_job(a, b, &job, &e))
        return say_error(NULL, &e);
    if (a->n == 2) {
        int deck = ident_asked_deck(b, a->operands[1], &e);
        if (deck < 0)
            return say_error(a->operands[0], &e);
        return write_deck(&job, b, (size_t)deck, out);
    }
    int worst = 0;
    for (size_t i = 0; i < b->decks.n; i++) {
        int status = write_deck(&job, b, i, out);
        worst = status > worst ? status : worst;
    }
    return worst;
}

int write_ident(const struct arguments *a, struct str *out)
{
    struct err e;
    struct booth *b = load_venue(a->operands[0], &e);
    if (!b)
        return say_error(a->operands[0], &e);
    int status = write_decks(a, b, out);
    booth_free(b);
    return status;
}
