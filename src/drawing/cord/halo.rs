//! Hairs over a column of the picture, colour apart.
//!
//! A hair gives its pixel some of its fibre's colour, once in the light of the
//! room and once in that of the lamp, and hides a share of what lies under it.
//! What the hairs of one fibre give a pixel is added up, so that new colours
//! take a few multiplications however many hairs there are. Those drawn first
//! lie on top.

use super::layer::Pixel;
use super::light::Studio;
use super::look::Look;
use super::vector::Vec3;

/// Hairs over the pixels of a column, row by row.
#[derive(Debug, Clone)]
pub(crate) struct Halo {
    pub(crate) x0: usize,
    pub(crate) width: usize,
    pub(crate) top: usize,
    /// Share of what lies under the hairs that is seen.
    clear: Vec<f32>,
    /// White that the hairs mirror.
    white: Vec<f32>,
    /// The last of each pixel's tinges, [`NO_TINGE`] without.
    last: Vec<u32>,
    tinges: Vec<Tinge>,
}

/// What the hairs of one fibre give a pixel of their colour.
#[derive(Debug, Clone, Copy)]
struct Tinge {
    of: (u16, u16),
    before: u32,
    room: f32,
    key: f32,
}

const NO_TINGE: u32 = u32::MAX;

/// A dot of a hair: what it hides, and its light.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Dot {
    /// Strand and end.
    pub(crate) of: (u16, u16),
    pub(crate) cover: f32,
    /// Shares of its colour in the light of the room and of the lamp.
    pub(crate) room: f32,
    pub(crate) key: f32,
    pub(crate) white: f32,
}

impl Halo {
    pub(crate) fn new(x0: usize, width: usize, top: usize, rows: usize) -> Self {
        let count = width * rows;
        Self {
            x0,
            width,
            top,
            clear: vec![1.0; count],
            white: vec![0.0; count],
            last: vec![NO_TINGE; count],
            tinges: Vec::new(),
        }
    }

    /// Pixels of the column.
    pub(crate) fn size(&self) -> usize {
        self.clear.len()
    }

    /// Number of a pixel of the picture, if it is one of the column's.
    #[inline]
    pub(crate) fn number(&self, x: isize, y: isize) -> Option<usize> {
        let x = usize::try_from(x - self.x0 as isize).ok()?;
        let y = usize::try_from(y - self.top as isize).ok()?;
        let at = y * self.width + x;
        (x < self.width && at < self.clear.len()).then_some(at)
    }

    /// A dot under those that are there already.
    #[inline]
    pub(crate) fn add(&mut self, at: usize, dot: &Dot) {
        let seen = self.clear[at] * dot.cover;
        self.clear[at] -= seen;
        self.white[at] += seen * dot.white;
        let mut next = self.last[at];
        while let Some(tinge) = self.tinges.get_mut(next as usize) {
            if tinge.of == dot.of {
                tinge.room += seen * dot.room;
                tinge.key += seen * dot.key;
                return;
            }
            next = tinge.before;
        }
        let before = self.last[at];
        self.last[at] = self.tinges.len() as u32;
        self.tinges.push(Tinge {
            of: dot.of,
            before,
            room: seen * dot.room,
            key: seen * dot.key,
        });
    }

    /// Row `y` of the picture with its hairs laid over; `row` begins at the
    /// column's left side.
    pub(crate) fn lay(&self, y: usize, row: &mut [Pixel], colours: &[Vec<HairColour>]) {
        let Some(first) = y.checked_sub(self.top).map(|y| y * self.width) else {
            return;
        };
        let clear = self.clear.iter().skip(first).take(self.width);
        for ((i, clear), to) in clear.enumerate().zip(row) {
            if *clear >= 1.0 {
                continue;
            }
            let at = first + i;
            to.light = to.light * *clear + Vec3::all(self.white[at]);
            to.cover += (1.0 - to.cover) * (1.0 - clear);
            let mut next = self.last[at];
            while let Some(tinge) = self.tinges.get(next as usize) {
                let colour = &colours[usize::from(tinge.of.0)][usize::from(tinge.of.1)];
                to.light += colour.room * tinge.room + colour.key * tinge.key;
                next = tinge.before;
            }
        }
    }
}

/// Colour of a fibre's hairs in the light of the room and of the lamp.
#[derive(Debug, Clone, Copy)]
pub(crate) struct HairColour {
    room: Vec3,
    key: Vec3,
}

impl HairColour {
    pub(crate) fn new(studio: &Studio, look: &Look) -> Self {
        Self {
            room: look.colour.times(studio.sky() * 0.55 + Vec3::all(0.10)),
            key: look.colour.times(studio.key_colour * 0.72),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::cord::vector::vec3;

    #[test]
    fn dots_hide_what_lies_under_them_and_keep_their_order() {
        let colour = |room: Vec3| HairColour {
            room,
            key: Vec3::ZERO,
        };
        let colours = vec![
            vec![colour(vec3(1.0, 0.0, 0.0))],
            vec![colour(vec3(0.0, 1.0, 0.0))],
        ];
        let dot = |strand| Dot {
            of: (strand, 0),
            cover: 0.5,
            room: 1.0,
            key: 0.0,
            white: 0.0,
        };
        let mut halo = Halo::new(10, 3, 5, 2);
        let at = halo.number(11, 6).unwrap();
        for strand in [0, 1, 0] {
            halo.add(at, &dot(strand));
        }
        let mut row = [Pixel::default(); 3];
        row[1].light = vec3(0.0, 0.0, 1.0);
        halo.lay(6, &mut row, &colours);
        assert_eq!(row[1].light, vec3(0.625, 0.25, 0.125));
        assert_eq!(row[1].cover, 0.875);
        assert_eq!(row[0], Pixel::default());
        assert!(halo.number(13, 6).is_none() && halo.number(11, 7).is_none());
    }
}
