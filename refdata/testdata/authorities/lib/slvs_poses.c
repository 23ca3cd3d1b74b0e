/* Poses of a planar linkage by the constraint solver library libslvs.
 *
 * Reads from standard input: how many points, and for each x, y and 1 where it
 * is fixed; how many distances, and for each two points and how far apart they
 * are; how many slots, and for each the pin and two points of its line; how many
 * poses, and for each one distance, that between the first pair
 * given, for which the system is solved from the pose before. Prints x and y of
 * every point, a line a pose. Lengths in mm.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <slvs.h>

enum { FIXED = 1, MOVING = 2, PLANE = 1 };

static void fail(const char *why) {
	fprintf(stderr, "slvs_poses: %s\n", why);
	exit(1);
}

int main(void) {
	int points, distances, slots, poses;
	Slvs_System sys;
	memset(&sys, 0, sizeof sys);
	if (scanf("%d", &points) != 1 || points < 2 || points > 1000) fail("points");
	sys.param = calloc(2 * points + 7, sizeof *sys.param);
	sys.entity = calloc(points + 3 + 36, sizeof *sys.entity);
	Slvs_hParam h = 1;
	/* The plane: an origin and a normal that stand still. */
	for (int i = 0; i < 3; i++) sys.param[sys.params++] = Slvs_MakeParam(h++, FIXED, 0.0);
	double qw, qx, qy, qz;
	Slvs_MakeQuaternion(1, 0, 0, 0, 1, 0, &qw, &qx, &qy, &qz);
	const double q[4] = {qw, qx, qy, qz};
	for (int i = 0; i < 4; i++) sys.param[sys.params++] = Slvs_MakeParam(h++, FIXED, q[i]);
	const Slvs_hEntity origin = 2000, normal = 2001, plane = 2002;
	sys.entity[sys.entities++] = Slvs_MakePoint3d(origin, FIXED, 1, 2, 3);
	sys.entity[sys.entities++] = Slvs_MakeNormal3d(normal, FIXED, 4, 5, 6, 7);
	sys.entity[sys.entities++] = Slvs_MakeWorkplane(plane, FIXED, origin, normal);
	for (int i = 0; i < points; i++) {
		double x, y;
		int fixed;
		if (scanf("%lf %lf %d", &x, &y, &fixed) != 3) fail("a point");
		Slvs_hGroup g = fixed ? FIXED : MOVING;
		sys.param[sys.params++] = Slvs_MakeParam(h++, g, x);
		sys.param[sys.params++] = Slvs_MakeParam(h++, g, y);
		sys.entity[sys.entities++] = Slvs_MakePoint2d(i + 1, g, plane, h - 2, h - 1);
	}
	if (scanf("%d", &distances) != 1 || distances < 1 || distances > 5000) fail("distances");
	sys.constraint = calloc(distances + 36, sizeof *sys.constraint);
	for (int i = 0; i < distances; i++) {
		int a, b;
		double d;
		if (scanf("%d %d %lf", &a, &b, &d) != 3) fail("a distance");
		sys.constraint[sys.constraints++] =
			Slvs_MakeConstraint(i + 1, MOVING, SLVS_C_PT_PT_DISTANCE, plane, d, a + 1, b + 1, 0, 0);
	}
	if (scanf("%d", &slots) != 1 || slots < 0 || slots > 36) fail("slots");
	for (int i = 0; i < slots; i++) {
		int pin, a, b;
		if (scanf("%d %d %d", &pin, &a, &b) != 3) fail("a slot");
		const Slvs_hEntity line = 3000 + i;
		sys.entity[sys.entities++] = Slvs_MakeLineSegment(line, FIXED, plane, a + 1, b + 1);
		sys.constraint[sys.constraints++] =
			Slvs_MakeConstraint(distances + i + 1, MOVING, SLVS_C_PT_ON_LINE, plane, 0, pin + 1, 0, line, 0);
	}
	Slvs_hConstraint failed[5000];
	sys.failed = failed;
	if (scanf("%d", &poses) != 1) fail("poses");
	for (int i = 0; i < poses; i++) {
		double d;
		if (scanf("%lf", &d) != 1) fail("a pose");
		sys.constraint[0].valA = d;
		sys.faileds = 5000;
		Slvs_Solve(&sys, MOVING);
		if (sys.result != SLVS_RESULT_OKAY) fail("no solution");
		for (int p = 0; p < points; p++)
			printf("%.17g %.17g ", sys.param[7 + 2 * p].val, sys.param[8 + 2 * p].val);
		printf("\n");
	}
	return 0;
}
