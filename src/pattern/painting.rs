//! What was painted on the unrolled surface.
//!
//! Cells go once round from left to right, share of a round anticlockwise seen from
//! above, and upwards from row 0. Heights are kept in girths, so that the picture
//! keeps its proportions on a cord of another thickness.

use crate::material::Colour;
use crate::material::colour::Photograph;
use crate::surface::Surface;

/// Cells once round. A stitch of a cord of 32 strands still gets some tens.
const ACROSS: usize = 96;
/// Most cells upwards.
const MOST_UP: usize = 768;

/// Which part of a photograph is laid on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crop {
    /// Its middle, shares of the photograph from the left and from the top.
    pub middle: [f64; 2],
    /// How many times larger than to just cover the painting, at least 1.
    pub zoom: f64,
}

impl Default for Crop {
    fn default() -> Self {
        Self {
            middle: [0.5; 2],
            zoom: 1.0,
        }
    }
}

/// A pattern to begin with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// Rings.
    Rings,
    /// Spirals that rise to the left as seen from outside.
    SpiralsS,
    /// Spirals that rise to the right.
    SpiralsZ,
    /// Lengthwise lines.
    Lines,
    /// Blocks.
    Blocks,
}

impl Wish {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Rings,
        Self::SpiralsS,
        Self::SpiralsZ,
        Self::Lines,
        Self::Blocks,
    ];

    /// What a maker calls it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Rings => "rings",
            Self::SpiralsS => "spiral S",
            Self::SpiralsZ => "spiral Z",
            Self::Lines => "lines",
            Self::Blocks => "blocks",
        }
    }

    /// Which band a place lies in; `round` and `up` are shares of a round and of a repeat,
    /// `times` how often each colour comes, `steep` how often up for once round.
    fn band(self, round: f64, up: f64, [times, steep]: [f64; 2], colours: f64) -> i64 {
        let (across, along) = (colours * times * round, colours * steep * up);
        let band = |at: f64| at.floor() as i64;
        match self {
            Self::Rings => band(colours * times * up),
            Self::SpiralsS => band(across + along),
            Self::SpiralsZ => band(across - along),
            Self::Lines => band(across),
            Self::Blocks => band(across) + band(along),
        }
    }
}

/// A picture in the colours of a list, some of it left open.
#[derive(Debug, Clone, PartialEq)]
pub struct Painting {
    /// Cells upwards.
    up: usize,
    /// Way round the cord that it was painted on, mm.
    girth: f64,
    /// `ACROSS * up` colours, row by row from the bottom.
    cells: Vec<Option<u8>>,
    /// A place that should come to lie on the middle of a stitch: share and girths.
    anchor: Option<[f64; 2]>,
}

impl Painting {
    /// Nothing painted yet, on so many millimetres of a cord.
    pub fn open(surface: &Surface, height_mm: f64) -> Self {
        let cells = height_mm / surface.girth_mm * ACROSS as f64;
        // A height that is none makes one row.
        let up = (cells.round() as usize).clamp(1, MOST_UP);
        Self {
            up,
            girth: surface.girth_mm,
            cells: vec![None; ACROSS * up],
            anchor: None,
        }
    }

    /// Cells once round and upwards.
    pub fn size(&self) -> [usize; 2] {
        [ACROSS, self.up]
    }

    /// The colour of a cell, counted from the left and from the bottom.
    pub fn cell(&self, x: usize, y: usize) -> Option<u8> {
        self.cells.get(y * ACROSS + x % ACROSS).copied().flatten()
    }

    /// The colour at a place: share of a round, and mm on the cord it was painted on.
    pub fn at(&self, [share, mm]: [f64; 2]) -> Option<u8> {
        let x = (share.rem_euclid(1.0) * ACROSS as f64) as usize;
        let y = (mm / self.girth * ACROSS as f64).max(0.0) as usize;
        if y < self.up { self.cell(x, y) } else { None }
    }

    /// All cells, row by row from the bottom.
    pub fn cells(&self) -> &[Option<u8>] {
        &self.cells
    }

    /// How many cells are painted.
    pub fn painted(&self) -> usize {
        self.cells.iter().flatten().count()
    }

    /// How many of so many strands each of so many colours gets, if strands show as much of
    /// the colours as was painted of them: by the largest remainders. None is given to any
    /// if nothing is painted.
    pub fn counts(&self, strands: usize, colours: usize) -> Vec<usize> {
        let painted = self.painted();
        let cells = |colour: usize| {
            let is_it = |cell: &&u8| usize::from(**cell) == colour;
            self.cells.iter().flatten().filter(is_it).count()
        };
        let shares: Vec<usize> = (0..colours).map(|it| strands * cells(it)).collect();
        let whole = |share: &usize| share.checked_div(painted).unwrap_or(0);
        let mut counts: Vec<usize> = shares.iter().map(whole).collect();
        let left = (strands - counts.iter().sum::<usize>()).min(colours);
        let mut by_rest: Vec<usize> = (0..colours).collect();
        by_rest.sort_by_key(|&it| std::cmp::Reverse(shares[it].checked_rem(painted)));
        for &colour in by_rest.iter().take(if painted > 0 { left } else { 0 }) {
            counts[colour] += 1;
        }
        counts
    }

    /// The middle of a cell: share of a round, and mm on the cord it was painted on.
    pub fn middle(&self, x: usize, y: usize) -> [f64; 2] {
        let [share, girths] = self.place(x, y);
        [share, girths * self.girth]
    }

    /// The middle of a cell: share of a round, and height in girths.
    pub(super) fn place(&self, x: usize, y: usize) -> [f64; 2] {
        [x as f64 + 0.5, y as f64 + 0.5].map(|cells| cells / ACROSS as f64)
    }

    /// Paints the stitch that lies at a place (share of a round, mm) with a colour, or
    /// opens it again.
    pub fn paint_stitch(&mut self, surface: &Surface, at: [f64; 2], colour: Option<u8>) {
        let Some(float) = surface.float_at(at[0], at[1]) else {
            return;
        };
        let near = |y: usize| {
            let away = (y as f64 + 0.5) / ACROSS as f64 * self.girth - at[1];
            away.abs() < surface.repeat_mm / 2.0
        };
        let rows: Vec<usize> = (0..self.up).filter(|&y| near(y)).collect();
        let lies_there = |&(x, y): &(usize, usize)| {
            let [share, mm] = self.middle(x, y);
            surface.float_at(share, mm) == Some(float)
        };
        let all = rows.iter().flat_map(|&y| (0..ACROSS).map(move |x| (x, y)));
        let there: Vec<(usize, usize)> = all.filter(lies_there).collect();
        for (x, y) in self.hanging_together(&there, at) {
            self.cells[y * ACROSS + x] = colour;
        }
        let girth = self.girth;
        self.anchor.get_or_insert([at[0], at[1] / girth]);
    }

    /// Those of some cells that hang together with the one at a place.
    fn hanging_together(&self, cells: &[(usize, usize)], at: [f64; 2]) -> Vec<(usize, usize)> {
        let mut left: std::collections::BTreeSet<(usize, usize)> = cells.iter().copied().collect();
        let x = (at[0].rem_euclid(1.0) * ACROSS as f64) as usize % ACROSS;
        let y = (at[1] / self.girth * ACROSS as f64).max(0.0) as usize;
        let mut new = vec![(x, y)];
        left.remove(&(x, y));
        let mut all = Vec::new();
        while let Some((x, y)) = new.pop() {
            if y < self.up {
                all.push((x, y));
            }
            let sides = [(x + 1) % ACROSS, (x + ACROSS - 1) % ACROSS].map(|side| (side, y));
            let ends = [(x, y + 1), (x, y.wrapping_sub(1))];
            new.extend(
                sides
                    .into_iter()
                    .chain(ends)
                    .filter(|near| left.remove(near)),
            );
        }
        all
    }

    /// Paints a round spot with a brush of this radius in mm, or opens it again.
    pub fn dab(&mut self, at: [f64; 2], radius_mm: f64, colour: Option<u8>) {
        for y in 0..self.up {
            for x in 0..ACROSS {
                let [share, mm] = self.middle(x, y);
                let off = share - at[0];
                let round = (off - off.round()) * self.girth;
                if round.hypot(mm - at[1]) <= radius_mm {
                    self.cells[y * ACROSS + x] = colour;
                }
            }
        }
        let girth = self.girth;
        self.anchor.get_or_insert([at[0], at[1] / girth]);
    }

    /// Lays a photograph over the whole: every cell gets the colour of the list that the
    /// eye finds nearest to what is there, mixed as light; what is transparent is left open.
    ///
    /// Nothing happens without pixels or colours.
    pub fn lay_photograph(&mut self, photograph: &Photograph, crop: Crop, colours: &[Colour]) {
        let [wide, high] = photograph.size().map(|side| side as f64);
        if wide * high < 1.0 || colours.is_empty() {
            return;
        }
        // Pixels to a cell, so that the painting is covered.
        let [across, up] = [ACROSS as f64, self.up as f64];
        let scale = (wide / across).min(high / up) / crop.zoom.max(1.0);
        let first = |middle: f64, whole: f64, cells: f64| {
            let room = whole - cells * scale;
            (middle * whole - 0.5 * cells * scale).clamp(0.0, room.max(0.0))
        };
        let (left, top) = (
            first(crop.middle[0], wide, across),
            first(crop.middle[1], high, up),
        );
        for y in 0..self.up {
            for x in 0..ACROSS {
                let from_left = left + (x as f64 + 0.5) * scale;
                let from_top = top + ((self.up - 1 - y) as f64 + 0.5) * scale;
                let reach = (0.4 * scale) as usize;
                let seen = photograph.under(from_left as usize, from_top as usize, reach);
                self.cells[y * ACROSS + x] = seen.map(|seen| nearest(seen, colours));
            }
        }
        self.anchor = None;
    }

    /// Paints a pattern all over in these colours, each of them so many times round, or up
    /// a repeat of the cord where it lies in rings. What leans goes up in a repeat about as
    /// far as it goes round, and all goes on as the cord turns. Nothing without colours.
    pub fn wish(&mut self, surface: &Surface, wish: Wish, times: usize, colours: &[u8]) {
        let (times, count) = (times.max(1) as f64, colours.len());
        let steep = (times * surface.repeat_mm / surface.girth_mm)
            .round()
            .max(1.0);
        // The shorter way: a turn of nearly a round is one back.
        let turn = surface.repeat_turn - surface.repeat_turn.round();
        for y in 0..self.up {
            for x in 0..ACROSS {
                let [round, mm] = self.middle(x, y);
                let up = mm / surface.repeat_mm;
                let band = wish.band(round - turn * up, up, [times, steep], count as f64);
                let which = band.rem_euclid(count.max(1) as i64) as usize;
                self.cells[y * ACROSS + x] = colours.get(which).copied();
            }
        }
        self.anchor = None;
    }

    /// A place that should come to lie on the middle of a stitch; the middle of the
    /// picture if no one was chosen.
    pub(super) fn anchor(&self) -> [f64; 2] {
        self.anchor
            .unwrap_or([0.5, self.up as f64 / (2 * ACROSS) as f64])
    }
}

fn nearest(pixel: Colour, colours: &[Colour]) -> u8 {
    let apart = |&which: &usize| pixel.difference(colours[which]);
    let all = 0..colours.len();
    let nearest = all.min_by(|a, b| apart(a).total_cmp(&apart(b)));
    nearest.map_or(0, |which| which as u8)
}
