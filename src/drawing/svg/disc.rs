//! The disc or plate as it is set up: slots and numbers, every strand in the slot where
//! it begins, with its letter, and below what each letter is.
//!
//! Shares of the radius and tones as on the screen by daylight, the disc 120 mm across.

use super::{Svg, outline};
use crate::cord::strand_name;
use crate::document::Design;
use crate::material::{Colour, Part, Strand};
use crate::structure::{MoveList, Place, Plate};

/// Radius of the disc, or half the side of the plate, mm.
const RADIUS: f64 = 60.0;
/// Room round it for stubs and letters, mm.
const MARGIN: f64 = 18.0;
/// Height of a line of the list below, mm.
const LINE: f64 = 6.5;
/// Radius of the hole, as shares of the disc's.
const HOLE: f64 = 0.18;

const FOAM: &str = "#f4eee1";
const FOAM_LOWER: &str = "#e4dac7";
const FOAM_LINE: &str = "#93856e";
const HOLE_INK: &str = "#3a312a";
const DARK: &str = "#1d1815";
const INK: &str = "#2b2420";
const SLOT_INK: &str = "#5e5348";
const PAPER: &str = "#fffdf8";

/// The set-up of a design as the text of an SVG.
///
/// A disc without slots, and a strand whose place it does not have, are left out; a
/// strand held in the hand is only in the list.
pub fn disc_svg(design: &Design) -> String {
    let moves = design.sections.first().map(|s| s.moves.clone());
    let sheet = Sheet {
        design,
        moves: moves.unwrap_or_default(),
        kinds: kinds(design),
    };
    let side = 2.0 * (RADIUS + MARGIN);
    let lines: usize = sheet.kinds.iter().map(|(_, kind)| kind.parts.len()).sum();
    let height = side + LINE * (lines as f64 + 0.5);
    let title = format!("{}: {} as set up", design.name, sheet.moves.plate.word());
    let mut svg = Svg::new(&title, [side, height]);
    sheet.defs(&mut svg);
    sheet.ground(&mut svg);
    for strand in 0..design.strands.len() {
        sheet.strand(&mut svg, strand);
    }
    // The hole darkens to its middle, over the strands in it.
    sheet.hole(&mut svg, "url(#dark)");
    sheet.numbers(&mut svg);
    sheet.list(&mut svg);
    svg.finish()
}

/// Strands that are made alike, with their letters, in order of the first.
fn kinds(design: &Design) -> Vec<(Vec<String>, Strand)> {
    let mut kinds: Vec<(Vec<String>, Strand)> = Vec::new();
    for (i, strand) in design.strands.iter().enumerate() {
        match kinds.iter_mut().find(|(_, kind)| kind == strand) {
            Some((letters, _)) => letters.push(strand_name(i)),
            None => kinds.push((vec![strand_name(i)], strand.clone())),
        }
    }
    let cores = design.cores().into_iter();
    kinds.extend(cores.map(|core| (vec!["core".to_owned()], core)));
    kinds
}

struct Sheet<'a> {
    design: &'a Design,
    moves: MoveList,
    kinds: Vec<(Vec<String>, Strand)>,
}

impl Sheet<'_> {
    /// Where a place lies, a share of the way from the middle to the rim.
    fn at(&self, place: Place, share: f64) -> [f64; 2] {
        let [right, away] = self.moves.plate.point(place, self.moves.slots);
        let middle = RADIUS + MARGIN;
        [
            middle + RADIUS * share * right,
            middle - RADIUS * share * away,
        ]
    }

    fn defs(&self, svg: &mut Svg) {
        svg.begin("defs", &[]);
        svg.begin(
            "radialGradient",
            &[("id", "foam"), ("cx", ".4"), ("cy", ".37"), ("r", ".62")],
        );
        svg.mark("stop", &[("stop-color", FOAM)]);
        svg.mark("stop", &[("offset", "1"), ("stop-color", FOAM_LOWER)]);
        svg.end();
        svg.begin("radialGradient", &[("id", "dark")]);
        svg.mark("stop", &[("stop-color", DARK), ("stop-opacity", ".9")]);
        let clear = [("stop-color", DARK), ("stop-opacity", "0")];
        svg.mark("stop", &[&[("offset", "1")], &clear[..]].concat());
        svg.end();
        svg.end();
    }

    /// The rim at a share of its size.
    fn rim(&self, svg: &mut Svg, share: f64, attributes: &[(&str, &str)]) {
        let middle = svg.number(RADIUS + MARGIN);
        let reach = svg.number(RADIUS * share);
        if self.moves.plate == Plate::Disc {
            let round = [("cx", &*middle), ("cy", &*middle), ("r", &*reach)];
            svg.mark("circle", &[&round[..], attributes].concat());
            return;
        }
        let corner = svg.number(RADIUS + MARGIN - RADIUS * share);
        let side = svg.number(2.0 * RADIUS * share);
        let square = [
            ("x", &*corner),
            ("y", &*corner),
            ("width", &*side),
            ("height", &*side),
            ("rx", "4"),
        ];
        svg.mark("rect", &[&square[..], attributes].concat());
    }

    /// The bare disc: foam, slots, marks and hole.
    fn ground(&self, svg: &mut Svg) {
        let rim = [
            ("fill", "url(#foam)"),
            ("stroke", FOAM_LINE),
            ("stroke-width", ".5"),
        ];
        self.rim(svg, 1.0, &rim);
        let faint = [
            ("fill", "none"),
            ("stroke", FOAM_LINE),
            ("stroke-width", ".2"),
            ("stroke-opacity", ".4"),
        ];
        self.rim(svg, 0.80, &faint);
        self.rim(svg, 0.655, &faint);
        let slots = (1..=self.moves.slots).map(Place::slot);
        let lines = slots.map(|p| outline(&[self.at(p, 0.895), self.at(p, 1.0)], false));
        let lines: String = lines.collect();
        svg.mark(
            "path",
            &[("d", &lines), ("stroke", FOAM_LINE), ("stroke-width", ".5")],
        );
        if self.moves.plate == Plate::Disc {
            self.marks(svg);
        }
        self.hole(svg, HOLE_INK);
    }

    fn hole(&self, svg: &mut Svg, fill: &str) {
        let middle = svg.number(RADIUS + MARGIN);
        let reach = svg.number(RADIUS * HOLE);
        svg.mark(
            "circle",
            &[
                ("cx", &middle),
                ("cy", &middle),
                ("r", &reach),
                ("fill", fill),
            ],
        );
    }

    /// An open diamond before slot 1 and after each quarter of the slots.
    fn marks(&self, svg: &mut Svg) {
        let slots = self.moves.slots;
        let quarters = if slots.is_multiple_of(4) { 4 } else { 1 };
        for quarter in 0..quarters {
            let before = Place::slot(1).turned(i32::from(slots) / 2 * quarter - 1, slots);
            let [x, y] = self.at(before, 0.725);
            let diamond = [[x, y - 1.4], [x + 1.4, y], [x, y + 1.4], [x - 1.4, y]];
            svg.mark(
                "path",
                &[
                    ("d", &outline(&diamond, true)),
                    ("fill", "none"),
                    ("stroke", SLOT_INK),
                    ("stroke-width", ".4"),
                ],
            );
        }
    }

    fn place(&self, strand: usize) -> Option<Place> {
        let place = *self.moves.start.get(strand)?;
        (place != Place::Hand && place.is_on(self.moves.slots)).then_some(place)
    }

    /// A strand from the hole over the rim, and its letter.
    fn strand(&self, svg: &mut Svg, strand: usize) {
        let Some(place) = self.place(strand) else {
            return;
        };
        let made = &self.design.strands[strand];
        let thick = made.body(&self.design.fibres).map_or(2.0, |b| b.diameter);
        let width = (0.031 * thick).clamp(0.02, 0.11) * RADIUS;
        let name = strand_name(strand);
        svg.begin("g", &[("stroke-linecap", "round"), ("fill", "none")]);
        svg.words("title", &[], &format!("strand {name}"));
        let path = outline(&[self.at(place, 0.3 * HOLE), self.at(place, 1.055)], false);
        let mut stroke = |colour: Colour, width: f64| {
            let width = svg.number(width);
            let colour = colour.to_string();
            svg.mark(
                "path",
                &[("d", &path), ("stroke", &colour), ("stroke-width", &width)],
            );
        };
        let colours: Vec<Colour> = made.parts.iter().map(|part| part.colour).collect();
        let Some(first) = colours.first() else {
            svg.end();
            return;
        };
        stroke(shade(*first, 0.45), width);
        // Further colours lie inside the first, as ends held together.
        let inner = width * 0.82;
        for (i, colour) in colours.iter().enumerate() {
            stroke(*colour, inner * (1.0 - i as f64 / colours.len() as f64));
        }
        if colours.len() == 1 {
            stroke(shade(*first, 1.14), 0.34 * width);
        }
        self.tag(svg, place, &name);
        svg.end();
    }

    /// The letter of a strand in a ring outside the rim.
    fn tag(&self, svg: &mut Svg, place: Place, name: &str) {
        let out = self.at(place, 1.0);
        let middle = RADIUS + MARGIN;
        let way = [out[0] - middle, out[1] - middle];
        let reach = (0.15 * RADIUS) / way[0].hypot(way[1]).max(1e-9);
        let at = [out[0] + way[0] * reach, out[1] + way[1] * reach];
        let [x, y] = at.map(|v| svg.number(v));
        svg.mark(
            "circle",
            &[
                ("cx", &x),
                ("cy", &y),
                ("r", "3.1"),
                ("fill", PAPER),
                ("stroke", FOAM_LINE),
                ("stroke-width", ".3"),
            ],
        );
        words(svg, at, ("3.6", "700", INK), "middle", name);
    }

    /// The number of every slot; those of taken ones in a ring of paper.
    fn numbers(&self, svg: &mut Svg) {
        let slots = self.moves.slots;
        let room = std::f64::consts::TAU * 0.845 * RADIUS / f64::from(slots.max(1));
        let size = (0.62 * room).clamp(1.4, 4.2);
        let text = svg.number(size);
        for slot in 1..=slots {
            let place = Place::slot(slot);
            let at = self.at(place, 0.845);
            let numbering = self.design.braiding.numbering;
            let label = numbering.label_on(self.moves.plate, place, slots);
            let taken = self.moves.start.contains(&place);
            if taken {
                let [x, y] = at.map(|v| svg.number(v));
                let r = svg.number(0.85 * size);
                svg.mark(
                    "circle",
                    &[("cx", &x), ("cy", &y), ("r", &r), ("fill", PAPER)],
                );
            }
            let (weight, ink) = if taken {
                ("700", INK)
            } else {
                ("400", SLOT_INK)
            };
            words(svg, at, (&text, weight, ink), "middle", &label);
        }
    }

    /// What each letter is.
    fn list(&self, svg: &mut Svg) {
        let mut y = 2.0 * (RADIUS + MARGIN) + 0.5 * LINE;
        for (letters, strand) in &self.kinds {
            for (i, part) in strand.parts.iter().enumerate() {
                let (x, top) = (svg.number(MARGIN), svg.number(y - 2.0));
                let colour = part.colour.to_string();
                svg.mark(
                    "rect",
                    &[
                        ("x", &x),
                        ("y", &top),
                        ("width", "4"),
                        ("height", "4"),
                        ("rx", ".6"),
                        ("fill", &colour),
                        ("stroke", INK),
                        ("stroke-width", ".15"),
                    ],
                );
                let whose = match i {
                    0 => format!("{}: ", letters.join(", ")),
                    _ => "and ".to_owned(),
                };
                let at = [MARGIN + 6.0, y];
                let text = whose + &told(part);
                words(svg, at, ("3.6", "400", INK), "start", &text);
                y += LINE;
            }
        }
    }
}

/// Ends of one fibre in words.
fn told(part: &Part) -> String {
    let ends = match part.ends {
        1 => String::new(),
        n => format!("{n} ends of "),
    };
    format!("{ends}{} {}", part.colour.name(), part.fibre)
}

/// A text whose middle line passes the point.
fn words(
    svg: &mut Svg,
    at: [f64; 2],
    (size, weight, ink): (&str, &str, &str),
    anchor: &str,
    text: &str,
) {
    // Figures and capitals stand 0.72 of the size high; not every renderer knows how to
    // centre them itself.
    let drop = 0.36 * size.parse().unwrap_or(0.0);
    let (x, y) = (svg.number(at[0]), svg.number(at[1] + drop));
    svg.words(
        "text",
        &[
            ("x", &x),
            ("y", &y),
            ("font-family", "Lato, Helvetica, Arial, sans-serif"),
            ("font-size", size),
            ("font-weight", weight),
            ("text-anchor", anchor),
            ("fill", ink),
        ],
        text,
    );
}

/// Lighter or darker by a share of its light as it is shown.
fn shade(colour: Colour, share: f64) -> Colour {
    Colour(colour.0.map(|v| (f64::from(v) * share).min(255.0) as u8))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::sample_design;
    use crate::structure::shelf;

    #[test]
    fn every_strand_of_every_structure_lies_on_its_disc_with_its_letter() {
        for structure in shelf() {
            let design = Design::fresh(structure);
            let text = disc_svg(&design);
            for strand in 0..structure.strands() {
                let told = format!("<title>strand {}</title>", strand_name(strand));
                assert_eq!(text.matches(&told).count(), 1, "{}", structure.name);
            }
            let numbers = text.matches("text-anchor=\"middle\"").count();
            let expected = usize::from(structure.moves.slots) + structure.strands();
            assert_eq!(numbers, expected, "{}", structure.name);
        }
    }

    #[test]
    fn strands_made_alike_share_a_line_of_the_list() {
        let mut design = sample_design();
        let first = design.strands[0].clone();
        design.strands.fill(first);
        let alone = disc_svg(&design);
        assert_eq!(alone.matches("text-anchor=\"start\"").count(), 1, "{alone}");
        design.strands[1].parts[0].ends = 3;
        let two = disc_svg(&design);
        assert!(two.contains(">B: 3 ends of "), "{two}");
    }

    #[test]
    fn a_strand_in_the_hand_is_only_told() {
        let mut design = sample_design();
        design.sections[0].moves.start[0] = Place::Hand;
        let text = disc_svg(&design);
        assert!(!text.contains("<title>strand A</title>"));
        design.sections.clear();
        assert!(disc_svg(&design).ends_with("</svg>\n"));
    }
}
