/* What every unit test ends with. */
#ifndef UNIT_SUITE_H
#define UNIT_SUITE_H

#include <check.h>
#include <stdlib.h>

/* The step of a loop that tries each place in the plain build, and one of n under sanitizers, which
 * take many times as long. */
#ifdef __SANITIZE_ADDRESS__
#define EACH_OR(n) (n)
#else
#define EACH_OR(n) 1
#endif

/* Runs tests as one suite; the exit status for main. */
static inline int run_tests(const char *name, const TTest *const *tests, size_t count)
{
	Suite *suite = suite_create(name);
	TCase *tcase = tcase_create(name);
	SRunner *runner;
	int failed;
	for (size_t i = 0; i < count; i++)
		tcase_add_test(tcase, tests[i]);
	/* Slow machines under sanitizers are no failure. */
	tcase_set_timeout(tcase, 120);
	suite_add_tcase(suite, tcase);
	runner = srunner_create(suite);
	srunner_run_all(runner, CK_NORMAL);
	failed = srunner_ntests_failed(runner);
	srunner_free(runner);
	return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

/* For main: RUN_TESTS("name", test_a, test_b). */
#define RUN_TESTS(name, ...)                                                                       \
	run_tests(name, (const TTest *const[]){__VA_ARGS__},                                       \
	          sizeof((const TTest *const[]){__VA_ARGS__}) / sizeof(const TTest *))

#endif
