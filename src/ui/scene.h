/* The whole screen, from the state of the editor: reading only. */
#ifndef UI_SCENE_H
#define UI_SCENE_H

#include "ui/app.h"
#include "ui/grid.h"

void scene_draw(const struct app *a, struct grid *g);

#endif
