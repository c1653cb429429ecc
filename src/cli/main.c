/* The program's door: arguments in, an exit status out. */
#include <stdio.h>

int main(void)
{
    puts("boothwright " VERSION);
    return 0;
}
