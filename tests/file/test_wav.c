/* Our own writer against an independent audio library (libsndfile), where that is there. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#ifdef HAVE_sndfile
#include <sndfile.h>
#endif

#include "base/mem.h"
#include "engine/ident.h"
#include "file/wav.h"

/* A whole file of an ident; free with mem_free(). */
static char *make(int rate, size_t *size)
{
    int64_t n = ident_frames(IDENT_GLITS, 3, rate);
    *size = WAV_HEADER + (size_t)n * WAV_FRAME;
    char *wav = mem_new(*size, 1);
    wav_header(wav, rate, n);
    for (int64_t i = 0; i < n; i++) {
        int32_t frame[2];
        ident_frame(IDENT_GLITS, 3, rate, i, frame);
        wav_frame(wav + WAV_HEADER + i * WAV_FRAME, frame);
    }
    return wav;
}

START_TEST(samples_are_little_endian_and_keep_their_sign)
{
    char wav[WAV_HEADER + WAV_FRAME];
    wav_header(wav, 48000, 1);
    wav_frame(wav + WAV_HEADER, (const int32_t[]){-2, 0x123456});
    ck_assert_int_eq(memcmp(wav + WAV_HEADER, "\xfe\xff\xff\x56\x34\x12", 6), 0);
    ck_assert_int_eq(memcmp(wav, "RIFF\x2a\0\0\0WAVEfmt ", 16), 0);
}
END_TEST

START_TEST(an_independent_library_reads_the_same_samples)
{
#ifdef HAVE_sndfile
    static const int rates[] = {44100, 48000};
    char path[] = "/tmp/boothwright-wav-XXXXXX";
    size_t size;
    int fd = mkstemp(path), rate = rates[_i];
    char *wav = make(rate, &size);
    ck_assert_int_ge(fd, 0);
    ck_assert_int_eq(write(fd, wav, size), (ssize_t)size);
    close(fd);
    SF_INFO info = {0};
    SNDFILE *f = sf_open(path, SFM_READ, &info);
    ck_assert_msg(f != NULL, "%s", sf_strerror(NULL));
    ck_assert_int_eq(info.samplerate, rate);
    ck_assert_int_eq(info.channels, 2);
    ck_assert_int_eq(info.format, SF_FORMAT_WAV | SF_FORMAT_PCM_24);
    ck_assert_int_eq(info.frames, ident_frames(IDENT_GLITS, 3, rate));
    for (int64_t i = 0; i < info.frames; i++) {
        int read[2];
        int32_t ours[2];
        ck_assert_int_eq(sf_readf_int(f, read, 1), 1);
        ident_frame(IDENT_GLITS, 3, rate, i, ours);
        if (read[0] / 256 != ours[0] || read[1] / 256 != ours[1])
            ck_abort_msg("frame %lld: %d %d", (long long)i, read[0], read[1]);
    }
    sf_close(f);
    unlink(path);
    mem_free(wav);
#else
    (void)make;
    printf("file/wav: libsndfile is not there, the second opinion is skipped\n");
#endif
}
END_TEST

Suite *test_wav(void)
{
    Suite *s = suite_create("file/wav");
    TCase *t = tcase_create("wav");
    tcase_add_test(t, samples_are_little_endian_and_keep_their_sign);
    tcase_add_loop_test(t, an_independent_library_reads_the_same_samples, 0, 2);
    suite_add_tcase(s, t);
    return s;
}
