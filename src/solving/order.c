#include "solving/order.h"

#include <stdbool.h>

static bool comes_before(const double *key, int32_t a, int32_t b)
{
    return key[a] > key[b] || (a < b && key[a] >= key[b]);
}

/* Heap with the last of the order at its root. */
static void sift(int32_t *index, const double *key, int32_t root, int32_t count)
{
    for (;;) {
        int32_t child = 2 * root + 1;

        if (child >= count)
            return;
        if (child + 1 < count && comes_before(key, index[child], index[child + 1]))
            child++;
        if (!comes_before(key, index[root], index[child]))
            return;
        int32_t kept = index[root];
        index[root] = index[child];
        index[child] = kept;
        root = child;
    }
}

void order_falling(int32_t *index, const double *key, int32_t count)
{
    for (int32_t root = count / 2; root-- > 0;)
        sift(index, key, root, count);
    for (int32_t end = count - 1; end > 0; end--) {
        int32_t kept = index[0];

        index[0] = index[end];
        index[end] = kept;
        sift(index, key, 0, end);
    }
}
