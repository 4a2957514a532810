//! One font: which letters it has, how they stand beside one another, how they look.

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

use harfrust::{Direction, FontRef, ShapeOptions, ShaperData, UnicodeBuffer};
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{GlyphId, MetadataProvider};

use super::super::outline::{Outline, Step};

/// The bytes of a font.
pub(crate) type Bytes = Arc<dyn AsRef<[u8]> + Send + Sync>;

/// A font for letters that ours lack, as it lies on the computer.
#[derive(Clone)]
pub struct SpareFont {
    bytes: Bytes,
    index: u32,
}

impl SpareFont {
    /// The bytes of a font file, and which of its fonts.
    pub fn new(bytes: Vec<u8>, index: u32) -> Self {
        Self {
            bytes: Arc::new(bytes),
            index,
        }
    }

    pub(super) fn read(&self) -> Option<Font> {
        Font::new(Arc::clone(&self.bytes), self.index)
    }
}

impl fmt::Debug for SpareFont {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.bytes.as_ref().as_ref().len();
        write!(f, "SpareFont({size} bytes, font {})", self.index)
    }
}

/// A font ready to set type.
pub(crate) struct Font {
    bytes: Bytes,
    index: u32,
    shaper: ShaperData,
    /// Units in an em.
    units: f64,
}

impl fmt::Debug for Font {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Font({} units in an em)", self.units)
    }
}

/// A glyph in a run; lengths in ems.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Glyph {
    pub(crate) id: u32,
    /// The bytes of the run's text that it stands for.
    pub(crate) stands_for: Range<usize>,
    pub(crate) advance: f64,
    /// To the right and up, beside where it would stand.
    pub(crate) offset: [f64; 2],
}

impl Font {
    pub(crate) fn new(bytes: Bytes, index: u32) -> Option<Self> {
        let data = bytes.as_ref().as_ref();
        let font = FontRef::from_index(data, index).ok()?;
        let units = f64::from(
            font.metrics(Size::unscaled(), LocationRef::default())
                .units_per_em,
        );
        let shaper = ShaperData::new(&font);
        (units > 0.0).then_some(())?;
        Some(Self {
            shaper,
            units,
            index,
            bytes,
        })
    }

    /// The bytes of its file, and which of the fonts there it is.
    pub(crate) fn file(&self) -> (Bytes, u32) {
        (Arc::clone(&self.bytes), self.index)
    }

    fn font(&self) -> Option<FontRef<'_>> {
        FontRef::from_index(self.bytes.as_ref().as_ref(), self.index).ok()
    }

    /// Whether it has a letter, in outlines. What is never seen, it need not have.
    pub(crate) fn has(&self, letter: char) -> bool {
        if is_unseen(letter) {
            return true;
        }
        let Some(font) = self.font() else {
            return false;
        };
        let glyph = font.charmap().map(letter);
        glyph.is_some_and(|glyph| {
            glyph.to_u32() != 0
                && (letter.is_whitespace() || font.outline_glyphs().get(glyph).is_some())
        })
    }

    /// The glyphs of a text of one script, from left to right.
    pub(super) fn shape(&self, text: &str, backwards: bool) -> Vec<Glyph> {
        let Some(font) = self.font() else {
            return Vec::new();
        };
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        buffer.guess_segment_properties();
        buffer.set_direction(match backwards {
            true => Direction::RightToLeft,
            false => Direction::LeftToRight,
        });
        let shaper = self.shaper.shaper(&font).build();
        let set = shaper.shape(buffer, ShapeOptions::new());
        let mut begins: Vec<usize> = set
            .glyph_infos()
            .iter()
            .map(|g| g.cluster as usize)
            .collect();
        begins.sort_unstable();
        let em = |units: i32| f64::from(units) / self.units;
        let pairs = set.glyph_infos().iter().zip(set.glyph_positions());
        let glyph = pairs.map(|(info, place)| {
            let from = info.cluster as usize;
            let next = begins.iter().find(|begin| **begin > from);
            Glyph {
                id: info.glyph_id,
                stands_for: from..next.copied().unwrap_or(text.len()),
                advance: em(place.x_advance),
                offset: [em(place.x_offset), em(place.y_offset)],
            }
        });
        glyph.collect()
    }

    /// Adds the outline of a glyph, an em as large as `size`, its origin at `at`.
    pub(crate) fn trace(&self, glyph: u32, at: [f64; 2], size: f64, to: &mut Outline) {
        let Some(font) = self.font() else {
            return;
        };
        let Some(outline) = font.outline_glyphs().get(GlyphId::new(glyph)) else {
            return;
        };
        let mut pen = Tracer {
            to,
            at,
            scale: size / self.units,
            last: [0.0; 2],
        };
        let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
        // A broken glyph stays as far as it came.
        let _ = outline.draw(settings, &mut pen);
    }
}

/// Whether a letter leaves no mark: joiners, marks of direction, variation selectors.
fn is_unseen(letter: char) -> bool {
    letter.is_control()
        || matches!(
            letter,
            '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
                | '\u{2060}'..='\u{2069}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}'
        )
}

struct Tracer<'a> {
    to: &'a mut Outline,
    at: [f64; 2],
    scale: f64,
    last: [f32; 2],
}

impl Tracer<'_> {
    fn point(&self, x: f32, y: f32) -> [f64; 2] {
        [
            self.at[0] + f64::from(x) * self.scale,
            self.at[1] - f64::from(y) * self.scale,
        ]
    }
}

impl OutlinePen for Tracer<'_> {
    fn move_to(&mut self, x: f32, y: f32) {
        self.to.steps.push(Step::To(self.point(x, y)));
        self.last = [x, y];
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.to.steps.push(Step::Line(self.point(x, y)));
        self.last = [x, y];
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        let toward = |end: f32, handle: f32| end + (handle - end) * 2.0 / 3.0;
        let [lx, ly] = self.last;
        self.curve_to(
            toward(lx, cx),
            toward(ly, cy),
            toward(x, cx),
            toward(y, cy),
            x,
            y,
        );
    }

    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        let points = [self.point(ax, ay), self.point(bx, by), self.point(x, y)];
        self.to.steps.push(Step::Curve(points));
        self.last = [x, y];
    }

    fn close(&mut self) {
        self.to.steps.push(Step::Close);
    }
}
