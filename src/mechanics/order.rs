//! In which order the nodes of a sparse matrix are eliminated, and what that fills.
//!
//! A *node* here is a few unknowns that are coupled alike, so that the order, the tree of
//! elimination (Liu, *SIAM J. Matrix Anal. Appl.* 11 (1990) 134) and the patterns are found
//! once for all of them. The last node is a rim that touches every other; it is
//! eliminated last. Neighbouring nodes of nearly one pattern are eliminated together, as
//! one *front*.
//!
//! Knows no values.

use std::ops::Range;

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::sparse::SymbolicSparseColMatRef;
use faer::sparse::linalg::amd;

/// Fronts are merged if they are together no more than so many nodes wide and no more
/// than this share of what they hold is empty (tried).
const MERGED: [(usize, f64); 3] = [(2, 0.5), (6, 0.3), (16, 0.05)];

/// No parent.
pub(super) const NONE: u32 = u32::MAX;

/// Nodes that are eliminated together, and those they touch later, by places in the order.
#[derive(Debug, Clone)]
pub(super) struct Front {
    pub columns: Range<u32>,
    /// Places beyond, rising.
    pub rows: Vec<u32>,
    /// Entries below the diagonal that are not empty, in nodes.
    filled: usize,
}

/// Who comes when, and in which fronts.
#[derive(Debug)]
pub(super) struct Order {
    /// Node at each place.
    pub nodes: Vec<u32>,
    /// Place of each node.
    pub places: Vec<u32>,
    /// Children before parents.
    pub fronts: Vec<Front>,
}

impl Order {
    /// Of `count` nodes and a rim, coupled by these pairs. Pairs may come twice.
    pub(super) fn new(count: usize, pairs: &[[u32; 2]]) -> Option<Self> {
        let graph = Graph::new(count, pairs);
        let order = graph.least_degree_first()?;
        let parents = graph.parents(&order);
        let nodes: Vec<u32> = postorder(&parents)
            .into_iter()
            .map(|place| order[place as usize])
            .chain([count as u32])
            .collect();
        let places = inverse(&nodes);
        let fronts = graph.fronts(&nodes, &places);
        Some(Self {
            nodes,
            places,
            fronts: merged(fronts),
        })
    }

    /// Front of every place.
    pub(super) fn front_of_places(&self) -> Vec<u32> {
        let mut of = vec![0; self.nodes.len()];
        for (number, front) in self.fronts.iter().enumerate() {
            let columns = front.columns.start as usize..front.columns.end as usize;
            of[columns].fill(number as u32);
        }
        of
    }
}

/// Neighbours of every node, both ways.
#[derive(Debug)]
struct Graph {
    first: Vec<u32>,
    others: Vec<u32>,
}

impl Graph {
    fn new(count: usize, pairs: &[[u32; 2]]) -> Self {
        let mut ends = vec![0_u32; count + 1];
        for node in pairs.iter().flatten() {
            ends[*node as usize + 1] += 1;
        }
        for node in 0..count {
            ends[node + 1] += ends[node];
        }
        let mut free = ends.clone();
        let mut all = vec![0; 2 * pairs.len()];
        for &[a, b] in pairs {
            for (own, other) in [(a, b), (b, a)] {
                all[free[own as usize] as usize] = other;
                free[own as usize] += 1;
            }
        }
        let mut graph = Self {
            first: vec![0],
            others: Vec::with_capacity(all.len()),
        };
        for node in 0..count {
            let own = &mut all[ends[node] as usize..ends[node + 1] as usize];
            own.sort_unstable();
            let from = graph.others.len();
            for &other in own.iter() {
                if graph.others[from..].last() != Some(&other) {
                    graph.others.push(other);
                }
            }
            graph.first.push(graph.others.len() as u32);
        }
        graph
    }

    fn count(&self) -> usize {
        self.first.len() - 1
    }

    fn of(&self, node: u32) -> &[u32] {
        let (from, to) = (self.first[node as usize], self.first[node as usize + 1]);
        &self.others[from as usize..to as usize]
    }

    /// Approximate minimum degree, by the library.
    fn least_degree_first(&self) -> Option<Vec<u32>> {
        let count = self.count();
        let mut order = vec![0; count];
        let mut inverse = vec![0; count];
        let pattern =
            SymbolicSparseColMatRef::new_checked(count, count, &self.first, None, &self.others);
        let room = amd::order_scratch::<u32>(count, self.others.len());
        let mut memory = MemBuffer::new(room);
        let stack = MemStack::new(&mut memory);
        let control = amd::Control::default();
        amd::order(&mut order, &mut inverse, pattern, control, stack).ok()?;
        Some(order)
    }

    /// The tree of elimination: the next place that each place touches when its turn comes.
    fn parents(&self, order: &[u32]) -> Vec<u32> {
        let places = inverse(order);
        let mut parents = vec![NONE; order.len()];
        let mut roots = vec![NONE; order.len()];
        for (place, &node) in order.iter().enumerate() {
            for &other in self.of(node) {
                let mut at = places[other as usize];
                while (at as usize) < place {
                    let root = std::mem::replace(&mut roots[at as usize], place as u32);
                    if root == NONE {
                        parents[at as usize] = place as u32;
                        break;
                    }
                    at = root;
                }
            }
        }
        parents
    }

    /// Runs of places that form one front without any filling, the rim's last.
    fn fronts(&self, nodes: &[u32], places: &[u32]) -> Vec<Front> {
        let rim = self.count() as u32;
        let mut met = vec![NONE; nodes.len()];
        // Patterns that wait for the place of their parent.
        let mut waiting: Vec<Vec<Vec<u32>>> = vec![Vec::new(); nodes.len()];
        let mut fronts: Vec<Front> = Vec::new();
        for place in 0..rim {
            let mut rows = Vec::new();
            let children = std::mem::take(&mut waiting[place as usize]);
            let own = self.of(nodes[place as usize]);
            let own = own.iter().map(|&other| places[other as usize]);
            for row in own.chain(children.iter().flatten().copied()) {
                if row > place && std::mem::replace(&mut met[row as usize], place) != place {
                    rows.push(row);
                }
            }
            if met[rim as usize] != place {
                rows.push(rim);
            }
            let parent = rows.iter().copied().min().unwrap_or(rim);
            if parent < rim {
                waiting[parent as usize].push(rows.clone());
            }
            match fronts.last_mut() {
                Some(last) if last.goes_on(place, rows.len()) => {
                    last.columns.end += 1;
                    last.rows = rows;
                }
                _ => fronts.push(Front {
                    columns: place..place + 1,
                    rows,
                    filled: 0,
                }),
            }
        }
        fronts.push(Front {
            columns: rim..rim + 1,
            rows: Vec::new(),
            filled: 0,
        });
        for front in &mut fronts {
            front.rows.sort_unstable();
            front.filled = front.size();
        }
        fronts
    }
}

impl Front {
    fn width(&self) -> usize {
        self.columns.len()
    }

    fn size(&self) -> usize {
        let width = self.width();
        width * (width + 1) / 2 + width * self.rows.len()
    }

    /// Whether the column at `place` has the pattern of the last one less itself.
    fn goes_on(&self, place: u32, rows: usize) -> bool {
        self.columns.end == place && self.rows.len() == rows + 1 && self.rows.contains(&place)
    }

    /// Both together, if not too much of it is empty.
    fn with(&self, parent: &Self) -> Option<Self> {
        let touches = self.rows.first()? < &parent.columns.end;
        let both = Self {
            columns: self.columns.start..parent.columns.end,
            rows: parent.rows.clone(),
            filled: self.filled + parent.filled,
        };
        let empty = 1.0 - both.filled as f64 / both.size() as f64;
        let width = both.width();
        let serves = |&(most, share): &(usize, f64)| width <= most && empty <= share;
        (touches && MERGED.iter().any(serves)).then_some(both)
    }
}

/// Neighbouring fronts, the one the last child of the other, put together.
fn merged(fronts: Vec<Front>) -> Vec<Front> {
    let mut merged: Vec<Front> = Vec::with_capacity(fronts.len());
    for mut front in fronts {
        while let Some(both) = merged.last().and_then(|last| last.with(&front)) {
            merged.pop();
            front = both;
        }
        merged.push(front);
    }
    merged
}

fn inverse(order: &[u32]) -> Vec<u32> {
    let mut places = vec![0; order.len()];
    for (place, &node) in order.iter().enumerate() {
        places[node as usize] = place as u32;
    }
    places
}

/// Places in an order in which every family stands together, children first.
fn postorder(parents: &[u32]) -> Vec<u32> {
    let mut last = vec![NONE; parents.len() + 1];
    let mut before = vec![NONE; parents.len()];
    let above = |parent: u32| {
        if parent == NONE {
            parents.len()
        } else {
            parent as usize
        }
    };
    for (place, &parent) in parents.iter().enumerate() {
        before[place] = std::mem::replace(&mut last[above(parent)], place as u32);
    }
    // Parents first, the other way round.
    let mut order = Vec::with_capacity(parents.len());
    let mut open = Vec::new();
    let mut root = last[parents.len()];
    while root != NONE {
        open.push(root);
        root = before[root as usize];
    }
    while let Some(place) = open.pop() {
        order.push(place);
        let mut child = last[place as usize];
        while child != NONE {
            open.push(child);
            child = before[child as usize];
        }
    }
    order.reverse();
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A wall of bricks with some ties across it.
    fn pairs(count: u32) -> Vec<[u32; 2]> {
        let mut dice = fastrand::Rng::with_seed(3);
        let along = (1..count).map(|node| [node, node - 1]);
        let beside = (7..count).map(|node| [node, node - 7]);
        let mut pairs: Vec<[u32; 2]> = along.chain(beside).collect();
        pairs.extend((0..9).map(|_| [count - 1, dice.u32(0..count - 1)]));
        pairs
    }

    #[test]
    fn every_place_is_eliminated_once_and_the_rim_last() {
        let order = Order::new(60, &pairs(60)).unwrap();
        let columns: Vec<u32> = order
            .fronts
            .iter()
            .flat_map(|f| f.columns.clone())
            .collect();
        assert_eq!(columns, (0..61).collect::<Vec<u32>>());
        assert_eq!(order.nodes[60], 60);
        assert!(order.fronts.len() < 50, "nothing is merged");
    }

    /// Whatever a front touches later stands in the front that comes next of those.
    #[test]
    fn fronts_hold_all_pairs_and_hand_on_what_they_touch() {
        let order = Order::new(60, &pairs(60)).unwrap();
        let front_of = order.front_of_places();
        let holds = |front: &Front, place: u32| {
            front.columns.contains(&place) || front.rows.binary_search(&place).is_ok()
        };
        for pair in pairs(60) {
            let [a, b] = pair.map(|node| order.places[node as usize]);
            let front = &order.fronts[front_of[a.min(b) as usize] as usize];
            assert!(holds(front, a.max(b)), "{pair:?}");
        }
        for front in &order.fronts {
            let Some(&next) = front.rows.first() else {
                continue;
            };
            let parent = &order.fronts[front_of[next as usize] as usize];
            assert!(front.columns.end <= next);
            assert!(
                front.rows.iter().all(|&row| holds(parent, row)),
                "{front:?}"
            );
        }
    }
}
