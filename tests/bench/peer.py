"""The same tubes pulled tight by SciPy: a second opinion and a peer in speed.

Reads one problem as JSON from standard input, writes one answer as JSON.
The energy is written anew from its description: pull T sqrt(n S), bending
B/(2 l^3) sum |second difference|^2, contact (1/2)(4 k la lb / R^2)(R - r)^2 of
node pairs nearer than R, weight -F H; hard strands in a screw-periodic cell,
spacing l = sqrt(S/n) of each strand cycle inside the energy. Energy and slope
are compiled by numba, minimised by L-BFGS-B, stage by stage, to the same worst
force per length of strand.

Unknowns: nodes in the turned frame, then rise and turn, scaled.
"""

import json
import math
import sys
import time

import numpy as np
from numba import njit
from scipy.optimize import minimize

OWN_ARC = 1.6  # a strand does not touch itself within this arc over R
SKIN = 0.3  # partners listed beyond touching, strand diameters
OUTGROWN = 1.25  # change of spacing at which arcs are counted anew


@njit(cache=True)
def place(at, strands, nodes, lift, turn, points):
    for a in range(strands * nodes):
        share = (a % nodes) / nodes
        c, s = math.cos(turn * share), math.sin(turn * share)
        points[a, 0] = c * at[3 * a] - s * at[3 * a + 1]
        points[a, 1] = s * at[3 * a] + c * at[3 * a + 1]
        points[a, 2] = at[3 * a + 2] + share * lift


@njit(cache=True)
def list_pairs(points, radius, ahead, nodes, lift, turn, levels, spacing, skin):
    count = points.shape[0]
    pairs = []
    for a in range(count):
        i, m = a // nodes, a % nodes
        for level in range(levels + 1):
            c, s = math.cos(turn * level), math.sin(turn * level)
            for b in range(a + 1 if level == 0 else 0, count):
                z = points[b, 2] + level * lift - points[a, 2]
                reach = radius[a] + radius[b] + skin
                if abs(z) > reach:
                    continue
                x = c * points[b, 0] - s * points[b, 1] - points[a, 0]
                y = s * points[b, 0] + c * points[b, 1] - points[a, 1]
                if x * x + y * y + z * z >= reach * reach:
                    continue
                if ahead[level, i] == b // nodes:
                    arc = abs(level * nodes + b % nodes - m)
                    if arc * spacing[i] < OWN_ARC * (radius[a] + radius[b]):
                        continue
                pairs.append((a, b, level))
    return pairs


@njit(cache=True)
def spacings(points, following, cycle_of, steps, lift, turn, nodes):
    sums = np.zeros(steps.shape[0])
    c, s = math.cos(turn), math.sin(turn)
    count = points.shape[0]
    for a in range(count):
        b = following[a]
        up = b >= count
        p = points[b - count if up else b]
        x, y, z = p[0], p[1], p[2]
        if up:
            x, y, z = c * x - s * y, s * x + c * y, z + lift
        x, y, z = x - points[a, 0], y - points[a, 1], z - points[a, 2]
        sums[cycle_of[a // nodes]] += x * x + y * y + z * z
    return sums


@njit(cache=True)
def screwed(points, image, lift, turn, out):
    count = points.shape[0]
    level, a = image // count, image % count
    c, s = math.cos(turn * level), math.sin(turn * level)
    out[0] = c * points[a, 0] - s * points[a, 1]
    out[1] = s * points[a, 0] + c * points[a, 1]
    out[2] = points[a, 2] + level * lift
    return level


@njit(cache=True)
def push(slope, points, image, turn, fx, fy, fz, whole):
    """Adds a force on an image to the node it is an image of."""
    count = points.shape[0]
    level, a = image // count, image % count
    c, s = math.cos(turn * level), math.sin(turn * level)
    x, y = c * points[a, 0] - s * points[a, 1], s * points[a, 0] + c * points[a, 1]
    slope[a, 0] += c * fx + s * fy
    slope[a, 1] += c * fy - s * fx
    slope[a, 2] += fz
    whole[0] += level * fz
    whole[1] += level * (x * fy - y * fx)


@njit(cache=True)
def energy(
    at, lift, turn, points, pairs, radius, following, after, cycle_of, steps, pull, bending, weight, k, nodes
):
    count = points.shape[0]
    strands = count // nodes
    place(at, strands, nodes, lift, turn, points)
    sums = spacings(points, following, cycle_of, steps, lift, turn, nodes)
    spacing = np.sqrt(sums / steps)
    slope = np.zeros((count, 3))
    whole = np.zeros(2)
    pressed = np.zeros(steps.shape[0])
    bent = np.zeros(steps.shape[0])
    q, r = np.zeros(3), np.zeros(3)
    total = 0.0
    for n in range(pairs.shape[0]):
        a, b, level = pairs[n, 0], pairs[n, 1], pairs[n, 2]
        screwed(points, level * count + b, lift, turn, q)
        x, y, z = q[0] - points[a, 0], q[1] - points[a, 1], q[2] - points[a, 2]
        square = x * x + y * y + z * z
        both = radius[a] + radius[b]
        if square >= both * both:
            continue
        far = math.sqrt(square)
        ca, cb = cycle_of[a // nodes], cycle_of[b // nodes]
        stiff = 4.0 * k * spacing[ca] * spacing[cb] / (both * both)
        over = both - far
        cost = 0.5 * stiff * over * over
        total += cost
        pressed[ca] += 0.5 * cost
        pressed[cb] += 0.5 * cost
        f = stiff * over / far
        slope[a, 0] += f * x
        slope[a, 1] += f * y
        slope[a, 2] += f * z
        push(slope, points, level * count + b, turn, -f * x, -f * y, -f * z, whole)
    for a in range(count):
        cycle = cycle_of[a // nodes]
        screwed(points, following[a], lift, turn, q)
        screwed(points, after[a], lift, turn, r)
        stiff = bending[cycle] / spacing[cycle] ** 3
        x = points[a, 0] - 2.0 * q[0] + r[0]
        y = points[a, 1] - 2.0 * q[1] + r[1]
        z = points[a, 2] - 2.0 * q[2] + r[2]
        cost = 0.5 * stiff * (x * x + y * y + z * z)
        total += cost
        bent[cycle] += cost
        slope[a, 0] += stiff * x
        slope[a, 1] += stiff * y
        slope[a, 2] += stiff * z
        push(slope, points, following[a], turn, -2 * stiff * x, -2 * stiff * y, -2 * stiff * z, whole)
        push(slope, points, after[a], turn, stiff * x, stiff * y, stiff * z, whole)
    for cycle in range(steps.shape[0]):
        total += pull[cycle] * math.sqrt(steps[cycle] * sums[cycle])
    for a in range(count):
        cycle = cycle_of[a // nodes]
        screwed(points, following[a], lift, turn, q)
        along = pull[cycle] / spacing[cycle] + 2.0 * (pressed[cycle] - 1.5 * bent[cycle]) / sums[cycle]
        x, y, z = q[0] - points[a, 0], q[1] - points[a, 1], q[2] - points[a, 2]
        slope[a, 0] -= along * x
        slope[a, 1] -= along * y
        slope[a, 2] -= along * z
        push(slope, points, following[a], turn, along * x, along * y, along * z, whole)
    total -= weight * lift
    whole[0] -= weight
    out = np.zeros(3 * count + 2)
    for a in range(count):
        share = (a % nodes) / nodes
        c, s = math.cos(turn * share), math.sin(turn * share)
        fx, fy = slope[a, 0], slope[a, 1]
        whole[0] += share * slope[a, 2]
        whole[1] += share * (points[a, 0] * fy - points[a, 1] * fx)
        out[3 * a] = c * fx + s * fy
        out[3 * a + 1] = c * fy - s * fx
        out[3 * a + 2] = slope[a, 2]
    out[3 * count] = whole[0]
    out[3 * count + 1] = whole[1]
    return total, out, spacing


class Tubes:
    def __init__(self, problem):
        self.strands, self.nodes = problem["strands"], problem["nodes"]
        self.count = self.strands * self.nodes
        continues = problem["continues"]
        self.radius = np.array(problem["radius"])
        self.weight = problem["weight"]
        cycle_of, cycles = [-1] * self.strands, []
        for first in range(self.strands):
            if cycle_of[first] < 0:
                cycle, strand = [], first
                while cycle_of[strand] < 0:
                    cycle_of[strand] = len(cycles)
                    cycle.append(strand)
                    strand = continues[strand]
                cycles.append(cycle)
        self.cycle_of = np.array(cycle_of)
        self.steps = np.array([float(len(c) * self.nodes) for c in cycles])
        self.pull = np.array([problem["pull"][c[0]] for c in cycles])
        self.bending = np.array([problem["bending"][c[0]] for c in cycles])
        ahead = [list(range(self.strands))]
        for _ in range(80):
            ahead.append([continues[i] for i in ahead[-1]])
        self.ahead = np.array(ahead)

        def image(strand, node):
            if node < self.nodes:
                return strand * self.nodes + node
            return self.count + continues[strand] * self.nodes + node - self.nodes

        every = [(i, m) for i in range(self.strands) for m in range(self.nodes)]
        self.following = np.array([image(i, m + 1) for i, m in every])
        self.after = np.array([image(i, m + 2) for i, m in every])
        # Rise and turn act on all nodes at once; scaled, they are as stiff as one.
        self.scale = math.sqrt(2.0 * self.nodes / self.strands)

    def unknowns(self, points, lift, turn):
        at = np.zeros(3 * self.count + 2)
        for a, (x, y, z) in enumerate(points):
            share = (a % self.nodes) / self.nodes
            c, s = math.cos(turn * share), math.sin(turn * share)
            at[3 * a : 3 * a + 3] = c * x + s * y, c * y - s * x, z - share * lift
        at[-2:] = lift * self.scale, turn * self.scale
        return at

    def renew(self, points, lift, turn):
        low, high = points[:, 2].min(), points[:, 2].max()
        reach = high - low + 2 * self.radius.max() + SKIN
        levels = min(max(1, math.ceil(reach / max(lift, 1e-3))), 80)
        arcs = self.arc[self.cycle_of]
        found = list_pairs(points, self.radius, self.ahead, self.nodes, lift, turn, levels, arcs, SKIN)
        self.pairs = np.array(found, dtype=np.int64).reshape(-1, 3)
        self.stood, self.levels = (points.copy(), lift, turn), levels

    def hold(self, points, lift, turn):
        if self.stood is None:
            return False
        then, old_lift, old_turn = self.stood
        out = np.hypot(then[:, 0], then[:, 1]).max()
        shear = abs(lift - old_lift) + out * abs(turn - old_turn)
        far = math.sqrt(((points - then) ** 2).sum(axis=1).max())
        return far < 0.5 * (SKIN - self.levels * shear)

    def height(self, at):
        self.looks += 1
        lift, turn = at[-2] / self.scale, at[-1] / self.scale
        points = np.empty((self.count, 3))
        place(at, self.strands, self.nodes, lift, turn, points)
        if not self.hold(points, lift, turn):
            self.renew(points, lift, turn)
        total, slope, self.spacing = energy(
            at, lift, turn, points, self.pairs, self.radius, self.following, self.after,
            self.cycle_of, self.steps, self.pull, self.bending, self.weight, self.k, self.nodes,
        )
        forces = np.sqrt((slope[:-2].reshape(-1, 3) ** 2).sum(axis=1))
        by_node = np.repeat(self.spacing[self.cycle_of], self.nodes)
        total_pull = sum(self.pull[c] for c in self.cycle_of)
        wholes = np.abs(slope[-2:]).max() / (self.weight + 0.1 * total_pull)
        self.residuals[at.tobytes()] = max((forces / by_node).max(), wholes)
        slope[-2:] /= self.scale
        return total, slope

    def stage(self, at, k, tolerance):
        for _ in range(12):
            self.k, self.stood, self.residuals = k, None, {}
            lift, turn = at[-2] / self.scale, at[-1] / self.scale
            points = np.empty((self.count, 3))
            place(at, self.strands, self.nodes, lift, turn, points)
            sums = spacings(points, self.following, self.cycle_of, self.steps, lift, turn, self.nodes)
            self.arc = np.sqrt(sums / self.steps)

            def rested(intermediate_result):
                self.residual = self.residuals[intermediate_result.x.tobytes()]
                self.residuals = {}
                if self.residual < tolerance:
                    raise StopIteration

            options = {"maxcor": 20, "maxiter": 20000, "maxfun": 40000, "ftol": 0.0, "gtol": 0.0}
            done = minimize(self.height, at, jac=True, method="L-BFGS-B", callback=rested, options=options)
            at = done.x
            change = self.spacing / self.arc
            if change.max() < OUTGROWN and change.min() > 1 / OUTGROWN:
                break
        return at, done.fun

    def tight(self, problem):
        self.looks = 0
        at = self.unknowns(problem["points"], problem["lift"], problem["turn"])
        for k, tolerance in zip(problem["stages"], problem["tolerances"]):
            at, total = self.stage(at, k, tolerance)
        return {
            "lift": at[-2] / self.scale,
            "energy": total,
            "looks": self.looks,
            "residual": self.residual,
        }


def main():
    problem = json.load(sys.stdin)
    tubes = Tubes(problem)
    tubes.tight(problem)  # compiles
    times = []
    for _ in range(problem["runs"]):
        begun = time.perf_counter()
        answer = tubes.tight(problem)
        times.append((time.perf_counter() - begun) * 1e3)
    there = tubes.tight({**problem, **problem["rest"]})
    answer["lift_from_rest"], answer["energy_from_rest"] = there["lift"], there["energy"]
    times.sort()
    answer["least"], answer["median"] = times[0], times[len(times) // 2]
    json.dump(answer, sys.stdout)


main()
