/*
 * wheelrate: suspension set-up maths. Questions and replies are JSON in UTF-8; README.md has their forms.
 *
 *     const char question[] = "{\"version\": true}";
 *     char *reply = wheelrate_ask(question, sizeof question - 1);
 *     puts(reply);
 *     wheelrate_free(reply);
 *
 * Both functions may be called from any thread, from several at once. The library starts threads of its
 * own when it is loaded and handles signals as every Go library does: after fork a child can't use it
 * unless it calls exec, and it can't be unloaded.
 */
#ifndef WHEELRATE_H
#define WHEELRATE_H

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/*
 * Returns the reply to a question of size bytes, which need no zero after them. The reply ends with a zero
 * byte and is the caller's, to be given to wheelrate_free. The question stays the caller's and is not kept.
 *
 * A question that is NULL, too long or not JSON in UTF-8 has a reply that names the fault. NULL is returned
 * if there is no memory for the reply; where the library itself lacks memory, it ends the process.
 */
char *wheelrate_ask(const char *question, size_t size);

/* Frees a reply, once. NULL is ignored. */
void wheelrate_free(char *reply);

#ifdef __cplusplus
}
#endif

#endif
