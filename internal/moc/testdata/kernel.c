// The arithmetic of Interior in C, for the ratio that the benchmarks print: arguments are
// the number of nodes and the seconds to run; it prints inner nodes per second.
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static void interior(double *restrict h1, double *restrict q1, const double *restrict h0, const double *restrict q0, int n, double b, double r, double half) {
	for (int i = 1; i < n - 1; i++) {
		double qa = q0[i - 1], qb = q0[i + 1];
		double cp = h0[i - 1] + qa * (b - r * fabs(qa));
		double cm = h0[i + 1] - qb * (b - r * fabs(qb));
		h1[i] = 0.5 * (cp + cm);
		q1[i] = (cp - cm) * half;
	}
}

static double now(void) {
	struct timespec t;
	clock_gettime(CLOCK_MONOTONIC, &t);
	return t.tv_sec + 1e-9 * t.tv_nsec;
}

int main(int argc, char **argv) {
	int n = atoi(argv[1]);
	double seconds = atof(argv[2]);
	double *a[4];
	for (int k = 0; k < 4; k++) {
		a[k] = aligned_alloc(64, (n * sizeof(double) + 63) / 64 * 64);
		for (int i = 0; i < n; i++)
			a[k][i] = k % 2 ? 0.1 : 50;
	}
	long steps = 0;
	double start = now(), end;
	do {
		for (int k = 0; k < 500; k++) {
			interior(a[2], a[3], a[0], a[1], n, 1000, 5, 0.0005);
			interior(a[0], a[1], a[2], a[3], n, 1000, 5, 0.0005);
		}
		steps += 1000;
		end = now();
	} while (end - start < seconds);
	printf("%.0f %g\n", steps * (double)(n - 2) / (end - start), a[0][n / 2]);
	return 0;
}
