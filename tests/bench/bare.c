/* The least that a full screen costs: curses is started, every cell is written, and a key is waited
 * for. What the editor's start is compared with. */
#include <curses.h>
#include <locale.h>
#include <stdio.h>

int main(void)
{
    setlocale(LC_ALL, "");
    SCREEN *s = newterm(NULL, stdout, stdin);
    if (!s)
        return 1;
    cbreak();
    noecho();
    for (int y = 0; y < LINES; y++)
        for (int x = 0; x < COLS; x++)
            mvaddch(y, x, (chtype)('a' + (x + y) % 26));
    refresh();
    getch();
    endwin();
    delscreen(s);
    return 0;
}
