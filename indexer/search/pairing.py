"""The assignment problem: which of two lists' items go together so that the cost is least."""

from collections.abc import Sequence


def assignment(costs: Sequence[Sequence[float]]) -> list[int]:
    """The column given to each row so that the sum of costs is least (a square matrix).

    The shortest augmenting path form of the Hungarian method (Kuhn 1955; Jonker and
    Volgenant 1987).
    """
    size = len(costs)
    row_price, column_price = [0.0] * (size + 1), [0.0] * (size + 1)
    row_of = [0] * (size + 1)  # the row that holds each column, from 1; 0 is free
    for row in range(1, size + 1):
        row_of[0] = row
        column = 0
        least = [float("inf")] * (size + 1)
        came_from = [0] * (size + 1)
        done = [False] * (size + 1)
        while row_of[column]:
            done[column] = True
            here, step, following = row_of[column], float("inf"), 0
            for j in range(1, size + 1):
                if done[j]:
                    continue
                slack = costs[here - 1][j - 1] - row_price[here] - column_price[j]
                if slack < least[j]:
                    least[j], came_from[j] = slack, column
                if least[j] < step:
                    step, following = least[j], j
            for j in range(size + 1):
                if done[j]:
                    row_price[row_of[j]] += step
                    column_price[j] -= step
                else:
                    least[j] -= step
            column = following
        while column:
            row_of[column] = row_of[came_from[column]]
            column = came_from[column]
    columns = [0] * size
    for column in range(1, size + 1):
        columns[row_of[column] - 1] = column - 1
    return columns
