/*
 * A spring's rate from its dimensions, and what hostile callers get:
 *
 *     cc -o example main.c -I.. -L. -lwheelrate -pthread && LD_LIBRARY_PATH=. ./example
 */
#include <pthread.h>
#include <stdio.h>
#include <string.h>

#include "wheelrate.h"

/* A text and its size, without the zero at its end. */
#define TEXT(text) text, sizeof(text) - 1

static const char spring[] =
	"{\"computation\": \"spring.coil\", \"given\": {"
	"\"wire_diameter\": \"9.5 mm\", \"mean_diameter\": \"50 mm\", \"active_coils\": 6.5, \"shear_modulus\": \"79.3 GPa\"}}";

/* Returns 0 if the reply to a question has a text in it, and prints it. */
static int expect(const char *question, size_t size, const char *text)
{
	char *reply = wheelrate_ask(question, size);
	int wrong = strstr(reply, text) == NULL;

	printf("%s%s\n", wrong ? "WRONG: " : "", reply);
	wheelrate_free(reply);
	return wrong;
}

/* Asks the same question often, as other threads do at the same time. */
static void *ask_often(void *first)
{
	size_t different = 0;

	for (int i = 0; i < 200; i++) {
		char *reply = wheelrate_ask(TEXT(spring));
		different += strcmp(reply, first) != 0;
		wheelrate_free(reply);
	}
	return (void *)different;
}

int main(void)
{
	pthread_t threads[4];
	void *different;
	/* k = G·d⁴/(8·D³·n) = 79300·9.5⁴/(8·50³·6.5) = 99.36976 N/mm */
	int wrong = expect(TEXT(spring), "\"rate\":\"99.36976");
	char *reply = wheelrate_ask(TEXT(spring));

	wrong |= expect(TEXT("{\"version\": true}"), "\"dataset\":");
	wrong |= expect(TEXT("{\"computation\": \"spring.coil\", \"given\": {}}"), "\"field\":\"wire_diameter\"");
	wrong |= expect(NULL, 0, "\"faults\":");
	wrong |= expect(NULL, 17, "\"faults\":");
	wrong |= expect(TEXT(""), "\"faults\":");
	wrong |= expect(TEXT("\"\xff\xfe\""), "\"want\":\"JSON in UTF-8\"");
	for (int i = 0; i < 4; i++)
		wrong |= pthread_create(&threads[i], NULL, ask_often, reply);
	for (int i = 0; i < 4; i++) {
		wrong |= pthread_join(threads[i], &different);
		wrong |= different != NULL;
	}
	wheelrate_free(reply);
	wheelrate_free(NULL);
	return wrong;
}
