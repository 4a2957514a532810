//! A strand on paper: a strip whose filling tells it from others in grey print.

use super::outline::Outline;
use super::paper::{Ink, Item, Pen};
use crate::drawing::Filling;

/// Lines of a filling, mm.
const LINE: f64 = 0.28;

/// From line to line of a filling, in widths of the strip, and at least so many mm.
const APART: (f64, f64) = (0.45, 0.75);

/// A strip between two points, filled; its edge parts it from what lies below.
pub(crate) fn strand(
    from: [f64; 2],
    to: [f64; 2],
    width: f64,
    filling: Option<Filling>,
) -> Vec<Item> {
    let edge = (0.14 * width).clamp(0.18, 0.35);
    let strip = Outline::capsule(from, to, width);
    let paper = if filling == Some(Filling::Solid) {
        Ink::BLACK
    } else {
        Ink::WHITE
    };
    let halo = Outline::capsule(from, to, width + 0.5);
    let mut items = vec![
        Item::filled(halo, Ink::WHITE),
        Item::both(strip, paper, Pen::new(edge, Ink::BLACK)),
    ];
    let along = Along::new(from, to, width);
    match filling {
        None | Some(Filling::Solid | Filling::Open) => {}
        Some(Filling::Hatched) => items.push(along.hatched(1.0)),
        Some(Filling::CrossHatched) => {
            items.push(along.hatched(1.0));
            items.push(along.hatched(-1.0));
        }
        Some(Filling::Dotted) => items.push(along.dotted()),
        Some(Filling::Striped) => items.push(along.striped()),
    }
    items
}

/// Places along a strip.
struct Along {
    from: [f64; 2],
    way: [f64; 2],
    long: f64,
    width: f64,
}

impl Along {
    fn new(from: [f64; 2], to: [f64; 2], width: f64) -> Self {
        let way = [to[0] - from[0], to[1] - from[1]];
        let long = way[0].hypot(way[1]).max(1e-9);
        Self {
            from,
            way: way.map(|x| x / long),
            long,
            width,
        }
    }

    /// So far along, so far to the side.
    fn at(&self, far: f64, aside: f64) -> [f64; 2] {
        let [x, y] = self.way;
        [
            self.from[0] + x * far - y * aside,
            self.from[1] + y * far + x * aside,
        ]
    }

    fn apart(&self) -> f64 {
        (APART.0 * self.width).max(APART.1)
    }

    /// Lines aslant, one way or the other.
    fn hatched(&self, way: f64) -> Item {
        let half = self.width / 2.0;
        let mut lines = Outline::default();
        let mut far = half;
        while far < self.long - half {
            lines.part(
                &[
                    self.at(far - half * 0.8, -half * way),
                    self.at(far + half * 0.8, half * way),
                ],
                false,
            );
            far += self.apart();
        }
        Item::drawn(lines, Pen::new(LINE.min(0.3 * self.width), Ink::BLACK))
    }

    fn dotted(&self) -> Item {
        let mut dots = Outline::default();
        let mut far = 0.0;
        while far <= self.long {
            let dot = Outline::circle(self.at(far, 0.0), 0.24 * self.width);
            dots.steps.extend(dot.steps);
            far += (1.2 * self.apart()).max(0.75 * self.width);
        }
        Item::filled(dots, Ink::BLACK)
    }

    fn striped(&self) -> Item {
        let mut lines = Outline::default();
        for aside in [-0.17, 0.17] {
            let aside = aside * self.width;
            lines.part(&[self.at(0.0, aside), self.at(self.long, aside)], false);
        }
        Item::drawn(lines, Pen::new(LINE.min(0.16 * self.width), Ink::BLACK))
    }
}
