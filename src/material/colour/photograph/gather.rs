//! Colours gathered round a few middles: k-means, begun far apart.

use super::super::Lab;
use super::Heap;

/// Times the middles are moved; they hardly move after ten (tried).
const ROUNDS: usize = 24;

/// Heaps gathered round at most `count` middles; one left empty is dropped.
pub(super) fn gathered(heaps: &[Heap], count: usize) -> Vec<Heap> {
    let mut middles = far_apart(heaps, count);
    let mut last = Vec::new();
    for _ in 0..ROUNDS {
        let nearest: Vec<usize> = heaps
            .iter()
            .map(|heap| nearest(&middles, heap.lab))
            .collect();
        if nearest == last {
            break;
        }
        for (place, middle) in middles.iter_mut().enumerate() {
            let mine = members(heaps, &nearest, place);
            *middle = mean(mine).unwrap_or(*middle);
        }
        last = nearest;
    }
    let gather = |(place, &lab): (usize, &Lab)| {
        let pixels = members(heaps, &last, place).map(|heap| heap.pixels).sum();
        Heap { lab, pixels }
    };
    let full = middles.iter().enumerate().map(gather);
    full.filter(|heap| heap.pixels > 0.0).collect()
}

/// Heaps that went to a middle.
fn members<'a>(
    heaps: &'a [Heap],
    nearest: &'a [usize],
    place: usize,
) -> impl Iterator<Item = &'a Heap> {
    let both = heaps.iter().zip(nearest);
    both.filter(move |(_, nearest)| **nearest == place)
        .map(|(heap, _)| heap)
}

/// A heap's say: the root of its pixels, so that a small red boat counts
/// beside a large sky (tried).
fn say(heap: &Heap) -> f64 {
    heap.pixels.sqrt()
}

/// Where to begin: the largest heap, then always the one with the most say
/// times squared distance from all before.
fn far_apart(heaps: &[Heap], count: usize) -> Vec<Lab> {
    let mut middles: Vec<Lab> = Vec::new();
    let mut want: Vec<f64> = heaps.iter().map(say).collect();
    let mut left: Vec<f64> = vec![f64::MAX; heaps.len()];
    while middles.len() < count {
        let most = (0..heaps.len()).max_by(|&i, &j| want[i].total_cmp(&want[j]).then(j.cmp(&i)));
        let Some(most) = most.filter(|&most| want[most] > 0.0) else {
            break;
        };
        let middle = heaps[most].lab;
        middles.push(middle);
        for ((want, left), heap) in want.iter_mut().zip(&mut left).zip(heaps) {
            *left = left.min(squared(middle, heap.lab));
            *want = *left * say(heap);
        }
    }
    middles
}

fn nearest(middles: &[Lab], lab: Lab) -> usize {
    let far = |&i: &usize| squared(middles[i], lab);
    let nearest = (0..middles.len()).min_by(|i, j| far(i).total_cmp(&far(j)));
    nearest.unwrap_or(0)
}

fn squared(one: Lab, two: Lab) -> f64 {
    (one.l - two.l).powi(2) + (one.a - two.a).powi(2) + (one.b - two.b).powi(2)
}

fn mean<'a>(heaps: impl Iterator<Item = &'a Heap>) -> Option<Lab> {
    let mut sum = [0.0; 4];
    for heap in heaps {
        let w = say(heap);
        let Lab { l, a, b } = heap.lab;
        for (sum, add) in sum.iter_mut().zip([w * l, w * a, w * b, w]) {
            *sum += add;
        }
    }
    let [l, a, b, w] = sum;
    (w > 0.0).then(|| Lab {
        l: l / w,
        a: a / w,
        b: b / w,
    })
}
