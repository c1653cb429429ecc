/* The shapes here are promised to scripts: a key may be added, none may go or change. */
#include "cli/print_json.h"

#include <assert.h>

#include "base/mem.h"
#include "base/utf8.h"

static const char *const side_words[] = {"left", "right"};

static void escape_point(struct str *out, uint32_t p)
{
    if (p < 0x10000) {
        str_addf(out, "\\u%04x", (unsigned)p);
        return;
    }
    p -= 0x10000;
    str_addf(out, "\\u%04x\\u%04x", 0xd800 | (unsigned)(p >> 10), 0xdc00 | (unsigned)(p & 0x3ff));
}

static void show_safely(const struct str *document, struct str *out)
{
    const char *s = str_text(document);
    size_t n = document->len;
    for (size_t at = 0; at < n;) {
        uint32_t p;
        size_t len = utf8_next(s + at, n - at, &p);
        assert(len);
        if (p != '\n' && utf8_unsafe(p))
            escape_point(out, p);
        else
            str_addn(out, s + at, len);
        at += len;
    }
}

void json_answer_open(struct json_answer *a)
{
    a->document = (struct str){0};
    a->w = json_on(&a->document, false);
    json_object(&a->w, NULL);
}

void json_answer_close(struct json_answer *a, struct str *out)
{
    json_end(&a->w);
    show_safely(&a->document, out);
    str_clear(&a->document);
}

void json_texts(struct json_out *w, const char *key, const struct texts *l)
{
    json_array(w, key);
    for (size_t i = 0; i < l->n; i++)
        json_text(w, NULL, l->v[i]);
    json_end(w);
}

void json_fault(const struct fault *f, const char *file, struct json_out *w)
{
    json_object(w, NULL);
    if (file)
        json_text(w, "file", file);
    json_text(w, "fault", f->slug);
    json_text(w, "severity", severity_word(f->severity));
    json_texts(w, "subjects", &f->subjects);
    json_text(w, "text", f->text);
    json_text(w, "fix", f->fix_text);
    json_end(w);
}

void json_faults(const struct faults *faults, const char *file, struct json_out *w)
{
    for (size_t i = 0; i < faults->n; i++)
        json_fault(&faults->v[i], file, w);
}

static void channels_out(struct json_out *w, const struct route *r)
{
    if (!r->there) {
        json_null(w, "channels");
        return;
    }
    json_array(w, "channels");
    json_number(w, NULL, r->pair.left);
    json_number(w, NULL, r->pair.right);
    json_end(w);
}

static void route_out(const struct derived *d, int deck, struct json_out *w)
{
    const struct deck *h = &d->circuit->booth->decks.v[deck];
    const struct route *r = &d->routes[deck];
    struct str shown = {0};
    struct texts path = {0};
    route_show(d->circuit, r->there ? r->pair : (struct pair){-1, -1}, &shown);
    route_path(d->circuit, deck, r, &path);
    json_object(w, NULL);
    json_text(w, "deck", h->id);
    json_text(w, "strip", *h->wants ? h->wants : NULL);
    channels_out(w, r);
    json_text(w, "shown", str_text(&shown));
    json_texts(w, "path", &path);
    json_end(w);
    while (path.n)
        mem_free(path.v[--path.n]);
    mem_free(path.v);
    str_clear(&shown);
}

void json_routes(const struct derived *d, struct json_out *w)
{
    json_array(w, "routes");
    for (size_t i = 0; i < d->circuit->n_decks; i++)
        route_out(d, (int)i, w);
    json_end(w);
}

void json_heard(const struct derived *d, struct json_out *w)
{
    json_array(w, "heard");
    for (size_t i = 0; i < d->heard.n; i++) {
        const struct sound *s = &d->heard.v[i];
        json_object(w, NULL);
        json_text(w, "strip", circuit_strip(d->circuit, s->strip)->id);
        json_text(w, "side", side_words[s->side]);
        json_text(w, "deck", d->circuit->booth->decks.v[s->deck].id);
        json_text(w, "deck_side", side_words[s->deck_side]);
        json_end(w);
    }
    json_end(w);
}

void json_steps(const struct derived *d, struct json_out *w)
{
    json_array(w, "steps");
    for (size_t i = 0; i < d->steps.n; i++) {
        const struct step *s = &d->steps.v[i];
        json_object(w, NULL);
        json_text(w, "id", s->id);
        json_text(w, "text", s->text);
        json_text(w, "see", s->see);
        if (s->expect_channels < 0)
            json_null(w, "expect_channels");
        else
            json_number(w, "expect_channels", s->expect_channels);
        json_end(w);
    }
    json_end(w);
}
