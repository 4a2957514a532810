//! Changes to the finished piece, and whether it is sensible.
//!
//! Bounds are far outside anything braided on a disc (common practice, no source).
//! Caps have changes of their own among the others.

use std::ops::RangeInclusive;

use super::check::{At, Checked, MOST};
use super::design::Piece;
use crate::plan::{Binding, Closure, End, Kind, Measure, Pendant, Size, Wearer};

/// Longest piece, mm.
const LONGEST: f64 = 100_000.0;
/// Most pieces of one cord, and most cords.
const MOST_PIECES: u16 = 1000;
/// Most layers of binding thread.
const MOST_LAYERS: u8 = 20;

/// A change to the finished piece.
#[derive(Debug, Clone, PartialEq)]
pub enum PieceEdit {
    /// Another kind, with the values it starts with.
    Kind(Kind),
    /// Another measure.
    Measure(Measure),
    /// Another closure.
    Closure(Closure),
    /// Another way to finish an end.
    End {
        /// Which end, 0 for the one braided first.
        at: usize,
        /// How it is finished.
        end: End,
    },
    /// Another binding.
    Binding(Binding),
    /// Another gap for glue, mm.
    GlueGap(f64),
    /// Another pendant, or none.
    Pendant(Option<Pendant>),
    /// Another wearer.
    Wearer(Wearer),
    /// Another number of pieces of one cord.
    FromOneCord(u16),
    /// Another number of cords.
    Cords(u16),
    /// Other further sizes.
    Sizes(Vec<Size>),
    /// Lengths folded at their middle, or not.
    Folded(bool),
}

impl PieceEdit {
    /// What is done, to stand behind "Undo".
    pub fn label(&self) -> &'static str {
        match self {
            Self::Kind(kind) => kind.word(),
            Self::Measure(Measure::Length(_)) => "length of the piece",
            Self::Measure(Measure::Round { .. }) => "girth and ease",
            Self::Closure(_) => "closure",
            Self::End { at: 0, .. } => "first end",
            Self::End { .. } => "last end",
            Self::Binding(_) => "binding",
            Self::GlueGap(_) => "gap for glue",
            Self::Pendant(None) => "take the pendant off",
            Self::Pendant(Some(_)) => "pendant",
            Self::Wearer(_) => "wearer",
            Self::FromOneCord(_) => "pieces from one cord",
            Self::Cords(_) => "number of cords",
            Self::Sizes(_) => "further sizes",
            Self::Folded(true) => "fold the lengths",
            Self::Folded(false) => "single lengths",
        }
    }

    /// Whether it goes on with `before`: the same thing typed or dragged further.
    pub(super) fn joins(&self, before: &Self) -> bool {
        match (self, before) {
            (Self::Measure(now), Self::Measure(before)) => {
                std::mem::discriminant(now) == std::mem::discriminant(before)
            }
            (
                Self::End { at, end },
                Self::End {
                    at: place,
                    end: was,
                },
            ) => at == place && std::mem::discriminant(end) == std::mem::discriminant(was),
            (Self::Pendant(now), Self::Pendant(before)) => now.is_some() && before.is_some(),
            (Self::Closure(now), Self::Closure(before)) => now.name == before.name,
            (Self::Binding(_), Self::Binding(_))
            | (Self::GlueGap(_), Self::GlueGap(_))
            | (Self::FromOneCord(_), Self::FromOneCord(_))
            | (Self::Cords(_), Self::Cords(_)) => true,
            _ => false,
        }
    }

    /// Makes the change; an end that there is not is the last one.
    pub(super) fn make(&self, piece: &mut Piece) {
        match self {
            Self::Kind(kind) => *piece = piece.of_kind(*kind),
            Self::Measure(measure) => piece.measure = *measure,
            Self::Closure(closure) => piece.closure.clone_from(closure),
            Self::End { at, end } => piece.ends[(*at).min(1)] = *end,
            Self::Binding(binding) => piece.binding = *binding,
            Self::GlueGap(gap) => piece.glue_gap = *gap,
            Self::Pendant(pendant) => piece.pendant.clone_from(pendant),
            Self::Wearer(wearer) => piece.wearer = *wearer,
            Self::FromOneCord(count) => piece.from_one_cord = *count,
            Self::Cords(count) => piece.cords = *count,
            Self::Sizes(sizes) => piece.sizes.clone_from(sizes),
            Self::Folded(folded) => piece.folded = *folded,
        }
    }
}

/// Whether every field is sensible, and the closure leaves cord between its ends.
pub(super) fn check_piece(piece: &Piece, at: &At<'_>) -> Checked {
    check_caps(piece, at)?;
    check_measure(piece.measure, &at.field("measure"))?;
    check_closure(&piece.closure, &at.field("closure"))?;
    for (i, &end) in piece.ends.iter().enumerate() {
        let called = ["first end", "last end"][i];
        check_end(end, &at.field("ends").item(i, called.into()))?;
    }
    check_binding(&piece.binding, &at.field("binding"))?;
    let gap = at.field("glue_gap");
    gap.number(piece.glue_gap, 0.0..=10.0, " mm")?;
    if let Some(pendant) = &piece.pendant {
        check_pendant(pendant, &at.field("pendant"))?;
    }
    let pieces = at.field("from_one_cord");
    pieces.whole(piece.from_one_cord, 1..=MOST_PIECES, "pieces from one cord")?;
    let cords = at.field("cords");
    cords.whole(piece.cords, 1..=MOST_PIECES, "cords")?;
    check_sizes(piece, &at.field("sizes"))?;
    leaves_cord(piece, piece.measure, &at.field("closure"))
}

fn check_caps(piece: &Piece, at: &At<'_>) -> Checked {
    let caps = at.field("caps");
    caps.count(piece.caps.len(), 0..=MOST, "caps")?;
    for (i, &cap) in piece.caps.iter().enumerate() {
        caps.numbered("cap", i).number(cap, 0.1..=100.0, " mm")?;
    }
    let ascending = piece.caps.windows(2).all(|pair| pair[0] < pair[1]);
    caps.ensure(ascending, || "they must ascend".into())?;
    if let Some(cap) = piece.cap {
        at.field("cap").ensure(piece.caps.contains(&cap), || {
            format!("{cap} mm is not in the list of caps")
        })?;
    }
    at.field("cap_depth")
        .number(piece.cap_depth, 0.1..=100.0, " mm")
}

fn check_measure(measure: Measure, at: &At<'_>) -> Checked {
    match measure {
        Measure::Length(length) => at.number(length, 1.0..=LONGEST, " mm"),
        Measure::Round { girth, ease } => {
            at.field("girth").number(girth, 10.0..=10_000.0, " mm")?;
            at.field("ease").number(ease, -100.0..=1000.0, " mm")
        }
    }
}

fn check_closure(closure: &Closure, at: &At<'_>) -> Checked {
    at.field("name").words(&closure.name)?;
    at.field("adds").number(closure.adds, 0.0..=1000.0, " mm")
}

fn check_end(end: End, at: &At<'_>) -> Checked {
    let size = |name, mm| at.field(name).number(mm, 0.1..=200.0, " mm");
    match end {
        End::Cap | End::Bare => Ok(()),
        End::FlatCap { width, thickness } => {
            size("width", width)?;
            size("thickness", thickness)
        }
        End::Crimp { width } => size("width", width),
        End::Button { across } => size("across", across),
        End::Loop { opening } => at.field("opening").number(opening, 0.1..=1000.0, " mm"),
        End::Tassel { length } => at.field("length").number(length, 0.0..=5000.0, " mm"),
        End::Knot { thicknesses } => {
            let here = at.field("thicknesses");
            here.number(thicknesses, 0.0..=200.0, " thicknesses of the cord")
        }
    }
}

fn check_binding(binding: &Binding, at: &At<'_>) -> Checked {
    let mm = |name, value, most| at.field(name).number(value, 0.0..=most, " mm");
    mm("thread", binding.thread, 10.0)?;
    mm("width", binding.width, 200.0)?;
    mm("seal", binding.seal, 10.0)?;
    at.field("layers")
        .ensure(binding.layers <= MOST_LAYERS, || {
            let layers = binding.layers;
            format!("there must be at most {MOST_LAYERS} layers of thread, not {layers}")
        })
}

fn check_pendant(pendant: &Pendant, at: &At<'_>) -> Checked {
    at.field("name").words(&pendant.name)?;
    at.field("bail").number(pendant.bail, 0.1..=500.0, " mm")?;
    at.field("grams")
        .number(pendant.grams, 0.0..=50_000.0, " g")
}

fn check_sizes(piece: &Piece, at: &At<'_>) -> Checked {
    at.count(piece.sizes.len(), 0..=MOST, "further sizes")?;
    for (i, size) in piece.sizes.iter().enumerate() {
        let here = at.numbered("size", i);
        here.field("name").words(&size.name)?;
        let longer = here.field("longer");
        longer.number(size.longer, -LONGEST..=LONGEST, " mm")?;
        leaves_cord(piece, piece.measure.longer(size.longer), &longer)?;
    }
    Ok(())
}

/// Whether there is cord beside the closure in a piece of this measure.
fn leaves_cord(piece: &Piece, measure: Measure, at: &At<'_>) -> Checked {
    let (length, adds) = (measure.bare(), piece.closure.adds);
    at.ensure(length > adds, || match adds {
        adds if adds > 0.0 => {
            format!("the closure takes {adds} mm, and the piece is {length} mm long")
        }
        _ => format!("the piece would be {length} mm long"),
    })
}

impl At<'_> {
    fn whole(&self, n: u16, within: RangeInclusive<u16>, what: &str) -> Checked {
        self.count(
            n.into(),
            (*within.start()).into()..=(*within.end()).into(),
            what,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{Edit, sample_design};

    fn made(edit: PieceEdit) -> Result<Piece, String> {
        let made = Edit::Piece(edit).apply(&sample_design());
        made.map(|design| design.piece)
            .map_err(|error| error.to_string())
    }

    #[test]
    fn an_absurd_length_gets_its_one_sentence() {
        let closure = |adds| Closure {
            adds,
            ..Closure::default()
        };
        let size = |longer| {
            let name = "S".into();
            PieceEdit::Sizes(vec![Size { name, longer }])
        };
        for (edit, sentence) in [
            (
                PieceEdit::Measure(Measure::Length(0.0)),
                "piece, measure: 0 is not between 1 and 100000 mm",
            ),
            (
                PieceEdit::Measure(Measure::Length(f64::NAN)),
                "piece, measure: NaN is not a number",
            ),
            (
                PieceEdit::Measure(Measure::Length(1e9)),
                "piece, measure: 1000000000 is not between 1 and 100000 mm",
            ),
            (
                PieceEdit::Measure(Measure::Round {
                    girth: -160.0,
                    ease: 13.0,
                }),
                "piece, measure, girth: -160 is not between 10 and 10000 mm",
            ),
            (
                PieceEdit::Closure(closure(-1.0)),
                "piece, closure, adds: -1 is not between 0 and 1000 mm",
            ),
            (
                PieceEdit::Closure(closure(200.0)),
                "piece, closure: the closure takes 200 mm, and the piece is 200 mm long",
            ),
            (
                size(-200.0),
                "piece, size 1, longer: the piece would be 0 mm long",
            ),
            (
                size(f64::INFINITY),
                "piece, size 1, longer: inf is not a number",
            ),
        ] {
            assert_eq!(made(edit), Err(sentence.to_owned()));
        }
    }

    #[test]
    fn an_absurd_end_or_number_gets_its_one_sentence() {
        let binding = |thread, layers| Binding {
            thread,
            layers,
            ..Binding::default()
        };
        let end = |end| PieceEdit::End { at: 1, end };
        for (edit, sentence) in [
            (
                end(End::Crimp { width: 0.0 }),
                "piece, last end, width: 0 is not between 0.1 and 200 mm",
            ),
            (
                end(End::Knot { thicknesses: -1.0 }),
                "piece, last end, thicknesses: -1 is not between 0 and 200 thicknesses of the cord",
            ),
            (
                PieceEdit::Binding(binding(f64::NAN, 2)),
                "piece, binding, thread: NaN is not a number",
            ),
            (
                PieceEdit::Binding(binding(0.1, 99)),
                "piece, binding, layers: there must be at most 20 layers of thread, not 99",
            ),
            (
                PieceEdit::GlueGap(-0.1),
                "piece, glue gap: -0.1 is not between 0 and 10 mm",
            ),
            (
                PieceEdit::FromOneCord(0),
                "piece, from one cord: there must be 1 to 1000 pieces from one cord, not 0",
            ),
            (
                PieceEdit::Cords(0),
                "piece, cords: there must be 1 to 1000 cords, not 0",
            ),
            (
                PieceEdit::Pendant(Some(Pendant {
                    name: "two\nlines".into(),
                    bail: 5.0,
                    grams: 3.0,
                })),
                "piece, pendant, name: it must be one line of plain text",
            ),
        ] {
            assert_eq!(made(edit), Err(sentence.to_owned()));
        }
    }

    #[test]
    fn a_kind_brings_its_values_and_each_can_be_changed_after() {
        let piece = made(PieceEdit::Kind(Kind::Bracelet)).unwrap();
        assert!(matches!(piece.measure, Measure::Round { .. }));
        let longer = piece.measure.longer(50.0);
        assert_eq!(longer.bare(), piece.measure.bare() + 50.0);
        let piece = made(PieceEdit::Measure(longer)).unwrap();
        assert_eq!(piece.measure, longer);
    }

    #[test]
    fn what_is_typed_on_is_undone_at_once_and_another_choice_by_itself() {
        let length = |mm| PieceEdit::Measure(Measure::Length(mm));
        assert!(length(40.0).joins(&length(4.0)));
        let round = PieceEdit::Measure(Measure::Round {
            girth: 160.0,
            ease: 13.0,
        });
        assert!(!round.joins(&length(4.0)));
        let end = |at, opening| PieceEdit::End {
            at,
            end: End::Loop { opening },
        };
        assert!(end(0, 12.0).joins(&end(0, 1.0)));
        assert!(!end(1, 12.0).joins(&end(0, 12.0)));
        assert!(!PieceEdit::Kind(Kind::Anklet).joins(&PieceEdit::Kind(Kind::Bracelet)));
    }
}
