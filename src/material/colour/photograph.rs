//! Colours taken from a photograph.
//!
//! Main colours: pixels of nearly one colour are put together, then gathered
//! round as many middles as are asked for (k-means in Lab). The same
//! photograph always gives the same colours.

use super::{Colour, Lab};

mod gather;

/// Most colours that are taken from a photograph at once.
const MOST: usize = 32;

/// Pixels looked at for the main colours: of a larger photograph every second
/// or third, in both directions.
const LOOKED_AT: usize = 1 << 18;

/// Main colours nearer than this are one: nobody would dye two threads so
/// (our choice).
const ONE_COLOUR: f64 = 5.0;

/// Why pixels are no photograph.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("a photograph of {width} by {height} pixels has {wanted} bytes, not {found}")]
pub struct PhotographError {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Bytes it should have, four a pixel.
    pub wanted: usize,
    /// Bytes there are.
    pub found: usize,
}

/// A picture to take colours from: red, green, blue and opacity, a byte each,
/// row by row from the upper left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Photograph {
    width: usize,
    height: usize,
    rgba: Vec<u8>,
}

/// A main colour of a photograph.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Main {
    /// The colour.
    pub colour: Colour,
    /// How much of the photograph is about this colour, 0 to 1.
    pub share: f64,
}

impl Photograph {
    /// A photograph of its pixels.
    ///
    /// # Errors
    ///
    /// If there are not four bytes for every pixel.
    pub fn new(width: usize, height: usize, rgba: Vec<u8>) -> Result<Self, PhotographError> {
        let wanted = width.saturating_mul(height).saturating_mul(4);
        if wanted != rgba.len() {
            let found = rgba.len();
            return Err(PhotographError {
                width,
                height,
                wanted,
                found,
            });
        }
        Ok(Self {
            width,
            height,
            rgba,
        })
    }

    /// Pixels across and down.
    pub fn size(&self) -> [usize; 2] {
        [self.width, self.height]
    }

    /// Its bytes, four a pixel, row by row.
    pub fn rgba(&self) -> &[u8] {
        &self.rgba
    }

    fn pixel(&self, x: usize, y: usize) -> [u8; 4] {
        let at = 4 * (y * self.width + x);
        [
            self.rgba[at],
            self.rgba[at + 1],
            self.rgba[at + 2],
            self.rgba[at + 3],
        ]
    }

    /// The colour under a place, mixed as light from the pixels within `reach`
    /// of it across and down. Nothing off the photograph, or where it is
    /// transparent.
    pub fn under(&self, x: usize, y: usize, reach: usize) -> Option<Colour> {
        if x >= self.width || y >= self.height {
            return None;
        }
        let mut sum = [0.0; 3];
        let mut opacity = 0.0;
        for y in y.saturating_sub(reach)..=(y + reach).min(self.height - 1) {
            for x in x.saturating_sub(reach)..=(x + reach).min(self.width - 1) {
                let [r, g, b, a] = self.pixel(x, y);
                let a = f64::from(a);
                for (sum, share) in sum.iter_mut().zip(Colour([r, g, b]).linear()) {
                    *sum += a * share;
                }
                opacity += a;
            }
        }
        (opacity > 0.0).then(|| Colour::from_linear(sum.map(|sum| sum / opacity)))
    }

    /// Its main colours, at most `count` (and at most 32), the largest share
    /// first. Fewer if it has fewer that a thread could be told by.
    pub fn main_colours(&self, count: usize) -> Vec<Main> {
        let heaps = self.heaps();
        let gathered = gather::gathered(&heaps, count.min(MOST));
        let whole: f64 = gathered.iter().map(|heap| heap.pixels).sum();
        let mut mains: Vec<Main> = Vec::new();
        for heap in gathered {
            let colour = heap.lab.clipped();
            let share = heap.pixels / whole;
            let near = |main: &&mut Main| main.colour.difference(colour) < ONE_COLOUR;
            match mains.iter_mut().find(near) {
                Some(main) => main.share += share,
                None => mains.push(Main { colour, share }),
            }
        }
        mains.sort_by(|a, b| b.share.total_cmp(&a.share));
        mains
    }

    /// Pixels of nearly one colour together: 32 steps of red, green and blue.
    fn heaps(&self) -> Vec<Heap> {
        const STEPS: usize = 32;
        let light: Vec<f64> = (0..=255).map(|v| Colour([v; 3]).linear()[0]).collect();
        let mut sums = vec![[0.0; 4]; STEPS.pow(3)];
        let skip = (self.width * self.height)
            .div_ceil(LOOKED_AT)
            .isqrt()
            .max(1);
        for y in (0..self.height).step_by(skip) {
            for x in (0..self.width).step_by(skip) {
                let [r, g, b, a] = self.pixel(x, y);
                if a < 128 {
                    continue;
                }
                let [r, g, b] = [r, g, b].map(usize::from);
                let sum = &mut sums[(r / 8 * STEPS + g / 8) * STEPS + b / 8];
                for (sum, add) in sum.iter_mut().zip([light[r], light[g], light[b], 1.0]) {
                    *sum += add;
                }
            }
        }
        let full = sums.into_iter().filter(|sum| sum[3] > 0.0);
        full.map(|[r, g, b, pixels]| Heap {
            lab: Lab::from_light([r / pixels, g / pixels, b / pixels]),
            pixels,
        })
        .collect()
    }
}

/// Pixels of about one colour.
#[derive(Debug, Clone, Copy)]
struct Heap {
    lab: Lab,
    pixels: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Blocks of colour side by side: share of the width in pixels and colour.
    fn blocks(blocks: &[(usize, [u8; 3])]) -> Photograph {
        let row: Vec<u8> = blocks
            .iter()
            .flat_map(|(wide, [r, g, b])| [*r, *g, *b, 255].repeat(*wide))
            .collect();
        let width = row.len() / 4;
        Photograph::new(width, 20, row.repeat(20)).unwrap()
    }

    #[test]
    fn main_colours_are_those_of_the_blocks_the_largest_first() {
        let [sea, sand, red] = [[20, 80, 120], [200, 180, 140], [190, 40, 40]];
        let picture = blocks(&[(20, sand), (70, sea), (4, red), (6, sea)]);
        let mains = picture.main_colours(3);
        let colours: Vec<Colour> = mains.iter().map(|m| m.colour).collect();
        assert_eq!(colours, [Colour(sea), Colour(sand), Colour(red)]);
        let shares: Vec<f64> = mains.iter().map(|m| m.share).collect();
        assert_eq!(shares, [0.76, 0.20, 0.04]);
    }

    #[test]
    fn colours_that_are_nearly_one_are_given_once() {
        let picture = blocks(&[(50, [100, 100, 100]), (50, [104, 103, 102])]);
        let mains = picture.main_colours(5);
        assert_eq!(mains.len(), 1);
        assert_eq!(mains[0].share, 1.0);
    }

    #[test]
    fn few_colours_of_a_gradient_lie_along_it() {
        let row: Vec<u8> = (0..=255).flat_map(|v| [v, v / 2, 255 - v, 255]).collect();
        let picture = Photograph::new(256, 8, row.repeat(8)).unwrap();
        let mains = picture.main_colours(5);
        assert_eq!(mains.len(), 5);
        for v in 0..=255 {
            let here = Colour([v, v / 2, 255 - v]);
            let far = mains.iter().map(|main| main.colour.difference(here));
            let nearest = far.fold(f64::MAX, f64::min);
            assert!(nearest < 20.0, "{here} is {nearest} from all");
        }
        assert_eq!(mains, picture.main_colours(5), "the same every time");
    }

    #[test]
    fn the_colour_under_a_place_is_mixed_as_light() {
        let picture = blocks(&[(1, [0; 3]), (1, [255; 3])]);
        assert_eq!(picture.under(0, 3, 0), Some(Colour::BLACK));
        assert_eq!(picture.under(1, 3, 0), Some(Colour::WHITE));
        // Half the light of white is 188, not 128.
        assert_eq!(picture.under(0, 0, 1), Some(Colour([188; 3])));
        assert_eq!(picture.under(2, 0, 1), None, "off the picture");
    }

    #[test]
    fn what_is_transparent_has_no_colour() {
        let clear = Photograph::new(1, 1, vec![9, 9, 9, 0]).unwrap();
        assert_eq!(clear.under(0, 0, 3), None);
        assert_eq!(clear.main_colours(4), []);
        let none = Photograph::new(0, 0, Vec::new()).unwrap();
        assert_eq!(none.under(0, 0, 0), None);
        assert_eq!(none.main_colours(4), []);
    }

    #[test]
    fn too_few_bytes_are_told() {
        let fault = Photograph::new(2, 2, vec![0; 15]).unwrap_err();
        let told = "a photograph of 2 by 2 pixels has 16 bytes, not 15";
        assert_eq!(fault.to_string(), told);
    }
}
