"""Solve a small dense system of linear equations."""


class SingularSystem(ValueError):
    """The equations do not determine every unknown."""


def solve_linear(matrix: list[list[float]], right: list[float]) -> list[float]:
    """Return x of A x = b, for A of shape (n, n) and b of shape (n,); neither is changed.

    Gaussian elimination with partial pivoting, on rows scaled to their largest element. Raises
    SingularSystem where a pivot vanishes, ValueError where the shapes do not match.

    Source: G. H. Golub, C. F. Van Loan, "Matrix Computations", 4th edition (2013), section 3.4.
    """
    size = len(matrix)
    if len(right) != size or any(len(row) != size for row in matrix):
        raise ValueError("the matrix must be square and as long as the right side")
    rows = []
    for row, value in zip(matrix, right, strict=True):
        scale = max((abs(element) for element in row), default=0.0)
        if scale == 0.0:
            raise SingularSystem("an equation has no unknown")
        rows.append([element / scale for element in row] + [value / scale])
    for column in range(size):
        pivot = max(range(column, size), key=lambda index: abs(rows[index][column]))
        rows[column], rows[pivot] = rows[pivot], rows[column]
        head = rows[column]
        if abs(head[column]) < 1e-14:
            raise SingularSystem("the equations do not determine every unknown")
        for index in range(column + 1, size):
            factor = rows[index][column] / head[column]
            if factor != 0.0:
                rows[index] = [
                    below - factor * above for below, above in zip(rows[index], head, strict=True)
                ]
    solution = [0.0] * size
    for index in reversed(range(size)):
        row = rows[index]
        known = sum(row[k] * solution[k] for k in range(index + 1, size))
        solution[index] = (row[size] - known) / row[index]
    return solution
