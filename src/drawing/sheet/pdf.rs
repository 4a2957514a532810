//! Pages as PDF: true to size, fonts embedded, tagged in the order of the work.
//!
//! No clock and no author: the same pages are the same bytes.

use std::collections::HashMap;
use std::num::NonZeroU16;
use std::sync::Arc;

use krilla::Document;
use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Point, Size, Transform};
use krilla::image::Image;
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::page::{Page as PdfPage, PageSettings};
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, SpanTag, Tag, TagGroup, TagKind, TagTree,
};
use krilla::text::{Font as PdfFont, GlyphId, KrillaGlyph};

use super::lettering::{Font, Run};
use super::outline::{Outline, Step};
use super::paper::{Ink, Item, Meaning, Page, Part, Pen, Picture, Words};

/// Points in a millimetre: 72 to the inch of 25.4 mm.
const POINTS: f64 = 72.0 / 25.4;

/// Why there is no PDF.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the pages could not be written as PDF: {0}")]
pub struct PdfError(String);

/// The bytes of a PDF of some pages.
///
/// # Errors
///
/// When the writer refuses what it is given, as a spare font that is broken.
pub fn pages_pdf(title: &str, pages: &[Page]) -> Result<Vec<u8>, PdfError> {
    let mut document = Document::new();
    let about = Metadata::new()
        .title(title.to_owned())
        .language("en".to_owned())
        .creator("Plaitwright".to_owned());
    document.set_metadata(about);
    let mut fonts = Fonts::default();
    let mut tree = TagTree::new().with_lang(Some("en".to_owned()));
    for page in pages {
        let [wide, high] = page.size.map(|mm| (mm * POINTS) as f32);
        let settings = PageSettings::from_wh(wide, high);
        let settings = settings.ok_or_else(|| PdfError("a page without size".to_owned()))?;
        write_page(
            &mut document.start_page_with(settings),
            page,
            &mut fonts,
            &mut tree,
        );
    }
    document.set_tag_tree(tree);
    let written = document.finish();
    written.map_err(|error| PdfError(format!("{error:?}")))
}

fn write_page(paper: &mut PdfPage<'_>, page: &Page, fonts: &mut Fonts, tree: &mut TagTree) {
    let mut writer = Writer {
        surface: paper.surface(),
        fonts,
        tree,
    };
    for item in &page.items {
        writer.outer(item);
    }
}

/// The fonts already handed over, by where they lie.
#[derive(Default)]
struct Fonts {
    known: HashMap<*const Font, Option<PdfFont>>,
}

impl Fonts {
    fn of(&mut self, font: &Arc<Font>) -> Option<PdfFont> {
        let known = self.known.entry(Arc::as_ptr(font));
        let read = known.or_insert_with(|| {
            let (bytes, index) = font.file();
            PdfFont::new(bytes.into(), index)
        });
        read.clone()
    }
}

struct Writer<'a, 'p> {
    surface: Surface<'p>,
    fonts: &'a mut Fonts,
    tree: &'a mut TagTree,
}

impl Writer<'_, '_> {
    /// Something that stands on the page by itself: what means nothing is furniture.
    fn outer(&mut self, item: &Item) {
        match item {
            Item::Part(part) if part.meaning != Meaning::Furniture => self.part(part),
            _ => {
                let artifact = Artifact::with_kind(ArtifactType::Other);
                self.surface.start_tagged(ContentTag::Artifact(artifact));
                self.inner(item);
                self.surface.end_tagged();
            }
        }
    }

    fn part(&mut self, part: &Part) {
        let tag = match &part.meaning {
            Meaning::Figure(shows) => TagKind::from(Tag::Figure(Some(shows.clone()))),
            Meaning::Title => head(1, part),
            Meaning::Head => head(2, part),
            Meaning::Text | Meaning::Furniture => TagKind::from(Tag::P),
        };
        let mut group = TagGroup::new(tag);
        group.push(self.tagged(part));
        self.tree.push(group);
    }

    fn tagged(&mut self, part: &Part) -> Identifier {
        let tag = match part.meaning {
            Meaning::Figure(_) => ContentTag::Other,
            _ => ContentTag::Span(SpanTag::empty()),
        };
        let id = self.surface.start_tagged(tag);
        for item in &part.items {
            self.inner(item);
        }
        self.surface.end_tagged();
        id
    }

    fn inner(&mut self, item: &Item) {
        match item {
            Item::Shape { outline, fill, pen } => self.shape(outline, *fill, *pen),
            Item::Words(words) => self.words(words),
            Item::Picture(picture) => self.picture(picture),
            Item::Part(part) => part.items.iter().for_each(|item| self.inner(item)),
        }
    }

    fn shape(&mut self, outline: &Outline, fill: Option<Ink>, pen: Option<Pen>) {
        if let Some(path) = path(outline) {
            self.surface.set_fill(fill.map(filled));
            self.surface.set_stroke(pen.map(stroked));
            self.surface.draw_path(&path);
        }
    }

    fn words(&mut self, words: &Words) {
        self.surface.set_fill(Some(filled(words.ink)));
        self.surface.set_stroke(None);
        let mut x = words.at[0];
        for run in &words.line.runs {
            if let Some(font) = self.fonts.of(&run.font) {
                let at = Point::from_xy((x * POINTS) as f32, (words.at[1] * POINTS) as f32);
                let size = (words.size * POINTS) as f32;
                let glyphs = glyphs(run);
                let text = &run.text;
                self.surface
                    .draw_glyphs(at, &glyphs, font, text, size, false);
            }
            x += run.width * words.size;
        }
    }

    fn picture(&mut self, picture: &Picture) {
        let raster = &picture.raster;
        let (wide, high) = (raster.width as u32, raster.height as u32);
        let image = Image::from_rgba8(raster.rgba.clone(), wide, high);
        let [x, y] = picture.at.map(|mm| (mm * POINTS) as f32);
        let [w, h] = picture.size.map(|mm| (mm * POINTS) as f32);
        if let Some(size) = Size::from_wh(w, h) {
            self.surface
                .push_transform(&Transform::from_translate(x, y));
            self.surface.draw_image(image, size);
            self.surface.pop();
        }
    }
}

fn head(level: u16, part: &Part) -> TagKind {
    let words = part.items.iter().filter_map(|item| match item {
        Item::Words(words) => Some(words.line.text.as_str()),
        _ => None,
    });
    let title = words.collect::<Vec<_>>().join(" ");
    let level = NonZeroU16::new(level).unwrap_or(NonZeroU16::MIN);
    TagKind::from(Tag::Hn(level, Some(title)))
}

fn glyphs(run: &Run) -> Vec<KrillaGlyph> {
    let glyph = |glyph: &super::lettering::Glyph| {
        let [right, up] = glyph.offset.map(|em| em as f32);
        let id = GlyphId::new(glyph.id);
        let advance = glyph.advance as f32;
        KrillaGlyph::new(id, advance, right, up, 0.0, glyph.stands_for.clone(), None)
    };
    run.glyphs.iter().map(glyph).collect()
}

fn filled(ink: Ink) -> Fill {
    Fill {
        paint: luma::Color::new(ink.0).into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::NonZero,
    }
}

fn stroked(pen: Pen) -> Stroke {
    let points = |mm: f64| (mm * POINTS) as f32;
    let (line_cap, line_join) = match pen.round {
        true => (LineCap::Round, LineJoin::Round),
        false => (LineCap::Butt, LineJoin::Miter),
    };
    Stroke {
        paint: luma::Color::new(pen.ink.0).into(),
        width: points(pen.width),
        line_cap,
        line_join,
        dash: pen.dash.map(|dash| StrokeDash {
            array: dash.map(points).to_vec(),
            offset: 0.0,
        }),
        ..Stroke::default()
    }
}

fn path(outline: &Outline) -> Option<Path> {
    let point = |p: [f64; 2]| p.map(|mm| (mm * POINTS) as f32);
    let mut path = PathBuilder::new();
    for step in &outline.steps {
        match *step {
            Step::To(p) => {
                let [x, y] = point(p);
                path.move_to(x, y);
            }
            Step::Line(p) => {
                let [x, y] = point(p);
                path.line_to(x, y);
            }
            Step::Curve(points) => {
                let [[ax, ay], [bx, by], [x, y]] = points.map(point);
                path.cubic_to(ax, ay, bx, by, x, y);
            }
            Step::Close => path.close(),
        }
    }
    path.finish()
}
