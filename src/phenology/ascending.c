/*
 * ascending.c - heapsort: no memory, no bad case, and equal doubles cannot be told apart.
 */
#include "phenology/ascending.h"

/* Let values[root] sink to its place in a heap of n whose larger values stand above. */
static void sink(size_t n, double *values, size_t root)
{
    double value = values[root];

    for (size_t child = 2 * root + 1; child < n; child = 2 * root + 1) {
        if (child + 1 < n && values[child + 1] > values[child])
            child++;
        if (values[child] <= value)
            break;
        values[root] = values[child];
        root = child;
    }
    values[root] = value;
}

void conetide_ascending(size_t n, double *values)
{
    for (size_t root = n / 2; root > 0; root--)
        sink(n, values, root - 1);
    for (size_t last = n; last > 1; last--) {
        double largest = values[0];

        values[0] = values[last - 1];
        values[last - 1] = largest;
        sink(last - 1, values, 0);
    }
}

double conetide_median_of_sorted(size_t n, const double *sorted)
{
    return n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
}
