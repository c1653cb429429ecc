/* The plans, as text, as JSON, and made. */
#ifndef CLI_PRINT_PLAN_H
#define CLI_PRINT_PLAN_H

#include <stdbool.h>

#include "base/str.h"
#include "engine/derived.h"
#include "engine/failures.h"
#include "engine/plan.h"
#include "file/json_out.h"

/* The three ways, best first, each with its actions and minutes, or why not. */
void text_plans(const struct plan *plans, bool ascii, struct str *out);

/* "plans" into the open object. */
void json_plans(const struct plan *plans, struct json_out *w);

/* What each single failure silences, and the quickest way back; "failures". */
void text_failures(const struct derived *d, bool ascii, struct str *out);
void json_failures(const struct derived *d, struct json_out *w);

/* The actions of one plan: a numbered list; "actions". */
void text_actions(const struct plan *p, bool ascii, struct str *out);
void json_actions(const struct plan *p, struct json_out *w);

#endif
