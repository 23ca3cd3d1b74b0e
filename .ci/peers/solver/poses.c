/* How long the constraint solver library libslvs takes for a pose of a linkage.
 *
 * Standard input: points (how many; x, y and 1 where fixed), distances (how
 * many; two points and how far apart), and how far the first of them shrinks.
 * Goes there and back in 200 steps of it, each from the pose before, and prints
 * the nanoseconds of all 401 poses, and the last point's y in each of them.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <slvs.h>

enum { FIXED = 1, MOVING = 2 };

static double now(void) {
	struct timespec t;
	clock_gettime(CLOCK_MONOTONIC, &t);
	return t.tv_sec * 1e9 + t.tv_nsec;
}

int main(void) {
	int points, distances;
	double stroke, qw, qx, qy, qz;
	Slvs_System sys;
	memset(&sys, 0, sizeof sys);
	if (scanf("%d", &points) != 1 || points < 2 || points > 100) return 1;
	sys.param = calloc(2 * points + 7, sizeof *sys.param);
	sys.entity = calloc(points + 3, sizeof *sys.entity);
	Slvs_hParam h = 1;
	for (int i = 0; i < 3; i++) sys.param[sys.params++] = Slvs_MakeParam(h++, FIXED, 0.0);
	Slvs_MakeQuaternion(1, 0, 0, 0, 1, 0, &qw, &qx, &qy, &qz);
	const double q[4] = {qw, qx, qy, qz};
	for (int i = 0; i < 4; i++) sys.param[sys.params++] = Slvs_MakeParam(h++, FIXED, q[i]);
	sys.entity[sys.entities++] = Slvs_MakePoint3d(2000, FIXED, 1, 2, 3);
	sys.entity[sys.entities++] = Slvs_MakeNormal3d(2001, FIXED, 4, 5, 6, 7);
	sys.entity[sys.entities++] = Slvs_MakeWorkplane(2002, FIXED, 2000, 2001);
	for (int i = 0; i < points; i++) {
		double x, y;
		int fixed;
		if (scanf("%lf %lf %d", &x, &y, &fixed) != 3) return 1;
		sys.param[sys.params++] = Slvs_MakeParam(h++, fixed ? FIXED : MOVING, x);
		sys.param[sys.params++] = Slvs_MakeParam(h++, fixed ? FIXED : MOVING, y);
		sys.entity[sys.entities++] = Slvs_MakePoint2d(i + 1, fixed ? FIXED : MOVING, 2002, h - 2, h - 1);
	}
	if (scanf("%d", &distances) != 1 || distances < 1 || distances > 200) return 1;
	sys.constraint = calloc(distances, sizeof *sys.constraint);
	for (int i = 0; i < distances; i++) {
		int a, b;
		double d;
		if (scanf("%d %d %lf", &a, &b, &d) != 3) return 1;
		sys.constraint[sys.constraints++] = Slvs_MakeConstraint(i + 1, MOVING, SLVS_C_PT_PT_DISTANCE, 2002, d, a + 1, b + 1, 0, 0);
	}
	if (scanf("%lf", &stroke) != 1) return 1;
	Slvs_hConstraint failed[200];
	const double length = sys.constraint[0].valA;
	double y[401];
	const double start = now();
	for (int i = 0; i <= 400; i++) {
		const int at = i <= 200 ? i : 400 - i;
		sys.constraint[0].valA = length - stroke * at / 200;
		sys.failed = failed;
		sys.faileds = 200;
		Slvs_Solve(&sys, MOVING);
		if (sys.result != SLVS_RESULT_OKAY) return 1;
		y[i] = sys.param[8 + 2 * (points - 1)].val;
	}
	printf("%.17g\n", now() - start);
	for (int i = 0; i <= 400; i++) printf("%.17g\n", y[i]);
	return 0;
}
