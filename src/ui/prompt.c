/* Editing by characters, not bytes: the cursor steps over whole UTF-8 sequences. */
#include "ui/prompt.h"

#include <string.h>

#include "base/mem.h"
#include "base/utf8.h"

void prompt_start(struct prompt *p, const char *text, size_t most)
{
    prompt_clear(p);
    str_add(&p->text, text ? text : "");
    p->at = p->text.len;
    p->most = most ? most : 4096;
}

void prompt_offer(struct prompt *p, const char *text, size_t most)
{
    prompt_start(p, text, most);
    p->whole = p->text.len > 0;
}

void prompt_clear(struct prompt *p)
{
    str_clear(&p->text);
    *p = (struct prompt){.most = 4096};
}

static bool continues(char c)
{
    return ((unsigned char)c & 0xc0) == 0x80;
}

static size_t before(const struct prompt *p)
{
    size_t at = p->at;
    while (at > 0 && continues(p->text.text[--at]))
        ;
    return at;
}

static size_t after(const struct prompt *p)
{
    size_t at = p->at;
    if (at < p->text.len)
        at++;
    while (at < p->text.len && continues(p->text.text[at]))
        at++;
    return at;
}

static void remove_bytes(struct prompt *p, size_t from, size_t to)
{
    memmove(p->text.text + from, p->text.text + to, p->text.len - to);
    str_cut(&p->text, p->text.len - (to - from));
    p->at = from;
}

static void insert_bytes(struct prompt *p, const char *bytes, size_t n)
{
    if (p->text.len + n > p->most)
        return;
    struct str joined = {0};
    str_addn(&joined, str_text(&p->text), p->at);
    str_addn(&joined, bytes, n);
    str_add(&joined, str_text(&p->text) + p->at);
    str_clear(&p->text);
    p->text = joined;
    p->at += n;
}

/* What is typed replaces a text that is marked. */
static void replace_marked(struct prompt *p)
{
    if (p->whole)
        remove_bytes(p, 0, p->text.len);
    p->whole = false;
}

static void insert_point(struct prompt *p, uint32_t point)
{
    struct str bytes = {0};
    replace_marked(p);
    utf8_add(&bytes, point);
    insert_bytes(p, bytes.text, bytes.len);
    str_clear(&bytes);
}

static void paste(struct prompt *p, const char *text)
{
    size_t n = strlen(text);
    for (size_t at = 0; at < n;) {
        uint32_t point;
        size_t len = utf8_next(text + at, n - at, &point);
        at += len ? len : 1;
        if (!len)
            continue;
        if (point == '\n' || point == '\t' || point == '\r')
            point = ' ';
        if (point >= ' ' && point != 127)
            insert_point(p, point);
    }
}

static enum prompt_said edit_key(struct prompt *p, int key)
{
    bool deletes = key == K_BACKSPACE || key == 8 || key == K_DELETE;
    if (p->whole && deletes) {
        replace_marked(p);
        return PROMPT_GOES_ON;
    }
    switch (key) {
    case K_LEFT:
        p->at = before(p);
        break;
    case K_RIGHT:
        p->at = after(p);
        break;
    case K_HOME:
    case K_CTRL('a'):
        p->at = 0;
        break;
    case K_END:
    case K_CTRL('e'):
        p->at = p->text.len;
        break;
    case K_BACKSPACE:
    case 8:
        if (p->at > 0)
            remove_bytes(p, before(p), p->at);
        break;
    case K_DELETE:
        if (p->at < p->text.len)
            remove_bytes(p, p->at, after(p));
        break;
    case K_CTRL('u'):
        if (p->at > 0)
            remove_bytes(p, 0, p->at);
        break;
    default:
        if (key < ' ' || key >= 0x110000 || (key >= 0xd800 && key < 0xe000))
            return PROMPT_IGNORED;
        insert_point(p, (uint32_t)key);
    }
    p->whole = false;
    return PROMPT_GOES_ON;
}

enum prompt_said prompt_event(struct prompt *p, const struct event *ev)
{
    if (ev->kind == EVENT_PASTE) {
        paste(p, ev->text);
        return PROMPT_GOES_ON;
    }
    if (ev->kind != EVENT_KEY)
        return PROMPT_IGNORED;
    if (ev->key == K_ENTER)
        return PROMPT_DONE;
    if (ev->key == K_ESC)
        return PROMPT_CANCELLED;
    return edit_key(p, ev->key);
}
