"""What SnapPy knows of closed braids: a second opinion on words and verdicts.

Reads a list of {"strands", "word"} from standard input and writes for each the
lengths of its rings, its writhe, its Alexander polynomial (lowest coefficient
first, that one positive) and whether the closed braid with its axis is hyperbolic.

M. Culler, N. M. Dunfield, M. Goerner and J. R. Weeks, SnapPy, a computer program
for studying the geometry and topology of 3-manifolds.
"""

import json
import sys
from fractions import Fraction

import snappy


def with_axis(word, strands):
    """The closed braid and a circle round all its strands."""
    axis = list(range(strands, 0, -1)) + list(range(1, strands + 1))
    return snappy.Link(braid_closure=list(word) + axis)


def rings(word, strands):
    """How often each component goes round the axis: the lengths of the rings."""
    link = with_axis(word, strands)
    rows = link.linking_matrix()
    lengths = [len(component) for component in link.link_components]
    # The axis crosses nothing but the strands, all of them twice, and never itself.
    for axis, row in enumerate(rows):
        others = [abs(turns) for index, turns in enumerate(row) if index != axis]
        if lengths[axis] == 2 * strands and sum(others) == strands and all(others):
            return sorted(others)
    return None


def determinant(rows):
    """Of a matrix of whole numbers, without fractions (Bareiss)."""
    rows = [list(row) for row in rows]
    sign, before = 1, 1
    for at in range(len(rows) - 1):
        pivot = next((row for row in range(at, len(rows)) if rows[row][at]), None)
        if pivot is None:
            return 0
        if pivot != at:
            rows[at], rows[pivot], sign = rows[pivot], rows[at], -sign
        for row in range(at + 1, len(rows)):
            for column in range(at + 1, len(rows)):
                crossed = rows[row][column] * rows[at][at] - rows[row][at] * rows[at][column]
                rows[row][column] = crossed // before
        before = rows[at][at]
    return sign * rows[-1][-1] if rows else 1


def interpolated(values):
    """Coefficients of the polynomial with these values at 0, 1, 2 and so on."""
    divided = [Fraction(value) for value in values]
    for order in range(1, len(divided)):
        for at in range(len(divided) - 1, order - 1, -1):
            divided[at] = (divided[at] - divided[at - 1]) / order
    found = []
    for node in range(len(divided) - 1, -1, -1):
        shifted = [Fraction(0)] + found
        found = [high - node * low for high, low in zip(shifted, found + [Fraction(0)])]
        found[0] += divided[node]
    return [int(coefficient) for coefficient in found]


def alexander(word):
    """From Seifert's matrix; None where the diagram falls apart."""
    rows = [[int(entry) for entry in row] for row in snappy.Link(braid_closure=word).seifert_matrix()]
    size = range(len(rows))

    def value(t):
        return determinant([[rows[i][j] - t * rows[j][i] for j in size] for i in size])

    found = interpolated([value(t) for t in range(len(rows) + 1)])
    while found and found[-1] == 0:
        found.pop()
    while found and found[0] == 0:
        found.pop(0)
    return [-c for c in found] if found and found[0] < 0 else found


def is_hyperbolic(word, strands):
    """Whether a hyperbolic structure with positive tetrahedra is found."""
    manifold = with_axis(word, strands).exterior()
    for _ in range(8):
        if manifold.solution_type() == "all tetrahedra positively oriented":
            return True
        manifold.randomize()
    return False


def answer(asked):
    strands, word = asked["strands"], asked["word"]
    is_whole = {abs(letter) for letter in word} == set(range(1, strands))
    return {
        "rings": rings(word, strands),
        "writhe": snappy.Link(braid_closure=word).writhe() if is_whole else None,
        "alexander": alexander(word) if is_whole else None,
        "hyperbolic": is_hyperbolic(word, strands),
    }


json.dump([answer(asked) for asked in json.load(sys.stdin)], sys.stdout)
