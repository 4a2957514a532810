//! Designs for tests: a plain one, and any one.

use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

use super::design::{Bead, Core};
use super::sample::{Quantity, State};
use super::{Braiding, Design, Edit, Kept, Piece, PieceEdit, Sample, Section};
use crate::cord::{Tension, Twist};
use crate::material::{Colour, Fibre, Known, Part, Standing, Strand, on_shelf, shelf};
use crate::plan::{
    Kind, Pendant, Wearer, any_binding, any_closure, any_end, any_measure, any_piece, any_sizes,
};
use crate::structure::{Move, MoveList, Numbering, On, Place, Rework, Step, shelf as structures};

/// The name of the fibre that the plain design is made of.
const SATIN: &str = "satin cord 2 mm, polyester";

/// Satin cord under another name.
pub(crate) fn sample_fibre(name: &str) -> Fibre {
    let satin = on_shelf(SATIN).unwrap().clone();
    Fibre {
        name: name.into(),
        ..satin
    }
}

/// Four strands of one fibre, two steps; sound in itself.
pub(crate) fn sample_design() -> Design {
    let strand = Strand::single(SATIN, Colour([31, 78, 121]));
    let step = |from, to| Step {
        moves: vec![Move {
            from: Place::slot(from),
            to: Place::slot(to),
        }],
    };
    Design {
        name: "Trial".into(),
        note: String::new(),
        fibres: vec![sample_fibre(SATIN)],
        strands: vec![strand; 4],
        sections: vec![Section {
            structure: "trial".into(),
            moves: MoveList {
                slots: 32,
                start: [32, 1, 16, 17].map(Place::slot).into(),
                steps: vec![step(17, 31), step(1, 15)],
                ..MoveList::default()
            },
            ..Section::default()
        }],
        braiding: Braiding {
            counterweight: 100.0,
            ..Braiding::default()
        },
        piece: Piece::default(),
    }
}

fn any_known(low: f64, high: f64) -> impl Strategy<Value = Known> {
    let standing = prop_oneof![
        Just(Standing::Guess),
        Just(Standing::CommonPractice),
        Just(Standing::Source),
        Just(Standing::Measured)
    ];
    ([low..high, low..high, low..high], standing).prop_map(|(mut three, standing)| {
        three.sort_by(f64::total_cmp);
        let [low, value, high] = three;
        Known {
            value,
            low,
            high,
            standing,
        }
    })
}

fn any_colour() -> impl Strategy<Value = Colour> {
    any::<[u8; 3]>().prop_map(Colour)
}

prop_compose! {
    fn any_fibre()(
        name in "[a-z\"\\\\é ]{1,12}",
        note in "(?s).{0,30}",
        base in proptest::sample::select(shelf()),
        friction in any_known(0.1, 0.9),
        shortens in any_known(0.0, 20.0),
        stiffness in 1_u8..=5,
        flat in option::of((0.1..9.0, 0.1..2.0)),
        colour in any_colour(),
    ) -> Fibre {
        Fibre { name, note, friction, shortens, stiffness, flat, colour, ..base }
    }
}

/// A strand of one to three of the fibres.
fn any_strand(names: Vec<String>) -> impl Strategy<Value = Strand> {
    let part = (proptest::sample::select(names), 1_u16..=99, any_colour());
    let part = part.prop_map(|(fibre, ends, colour)| Part {
        fibre,
        ends,
        colour,
    });
    vec(part, 1..=3).prop_map(|parts| Strand { parts })
}

fn any_place() -> impl Strategy<Value = Place> {
    prop_oneof![9 => (2_u16..=33).prop_map(Place::Rim), 1 => Just(Place::Hand)]
}

fn any_section(strand: Strand, n: usize) -> impl Strategy<Value = Section> {
    let moves = (any_place(), any_place()).prop_map(|(from, to)| Move { from, to });
    let steps = vec(vec(moves, 1..=3).prop_map(|moves| Step { moves }), 0..20);
    let start = vec(any_place(), n);
    let bead =
        (0..n, "[a-z ]{0,9}", 1.0..9.0, 0_u16..9).prop_map(|(strand, name, outer, per_move)| {
            Bead {
                strand,
                name,
                outer,
                hole: outer / 3.0,
                length: outer,
                per_move,
            }
        });
    let rest = (option::of(1_u32..99), 0_usize..2, vec(bead, 0..3));
    ("[a-z ]{0,12}", start, steps, rest).prop_map(
        move |(structure, start, steps, (repeat, cores, beads))| Section {
            structure,
            moves: MoveList {
                slots: 16,
                start,
                steps,
                ..MoveList::default()
            },
            repeat,
            cores: vec![
                Core {
                    strand: strand.clone()
                };
                cores
            ],
            beads,
        },
    )
}

fn any_braiding() -> impl Strategy<Value = Braiding> {
    let tension = prop_oneof![
        (0.1..9.0).prop_map(Tension::Slots),
        (10.0..200.0).prop_map(Tension::Bobbins)
    ];
    let twist = prop_oneof![Just(Twist::Free), Just(Twist::Held)];
    let numbering = prop_oneof![Just(Numbering::Clockwise), Just(Numbering::Anticlockwise)];
    (tension, 0.0..900.0, twist, numbering).prop_map(
        |(tension, counterweight, twist, numbering)| Braiding {
            tension,
            counterweight,
            twist,
            numbering,
        },
    )
}

/// Any change to a piece; some will be refused.
fn any_piece_edit() -> impl Strategy<Value = PieceEdit> {
    let pendant = ("[a-z ]{0,9}", 0.5..30.0, 0.0..90.0);
    let pendant = pendant.prop_map(|(name, bail, grams)| Pendant { name, bail, grams });
    let wearer = [Wearer::Grown, Wearer::Child, Wearer::Infant];
    prop_oneof![
        proptest::sample::select(Kind::ALL.to_vec()).prop_map(PieceEdit::Kind),
        any_measure().prop_map(PieceEdit::Measure),
        any_closure().prop_map(PieceEdit::Closure),
        (0_usize..2, any_end()).prop_map(|(at, end)| PieceEdit::End { at, end }),
        any_binding().prop_map(PieceEdit::Binding),
        (0.0..1.0).prop_map(PieceEdit::GlueGap),
        option::of(pendant).prop_map(PieceEdit::Pendant),
        proptest::sample::select(wearer.to_vec()).prop_map(PieceEdit::Wearer),
        (0_u16..20).prop_map(PieceEdit::FromOneCord),
        (0_u16..20).prop_map(PieceEdit::Cords),
        any_sizes().prop_map(PieceEdit::Sizes),
        any::<bool>().prop_map(PieceEdit::Folded),
    ]
}

/// Any sound design; its moves need not be a braid.
pub(crate) fn any_design() -> impl Strategy<Value = Design> {
    let fibres = vec(any_fibre(), 1..4).prop_map(|mut fibres| {
        fibres.retain(|fibre| !fibre.name.trim().is_empty());
        fibres.push(sample_fibre("always there"));
        fibres.sort_by(|a, b| a.name.cmp(&b.name));
        fibres.dedup_by(|a, b| a.name == b.name);
        fibres
    });
    let with_strands = fibres.prop_flat_map(|fibres| {
        let names = fibres.iter().map(|fibre| fibre.name.clone()).collect();
        (Just(fibres), vec(any_strand(names), 1..9))
    });
    let with_sections = with_strands.prop_flat_map(|(fibres, strands)| {
        let sections = vec(any_section(strands[0].clone(), strands.len()), 1..3);
        (Just(fibres), Just(strands), sections)
    });
    let rest = (
        "[^\\p{C}]{0,20}",
        "(?s).{0,40}",
        any_braiding(),
        any_piece(),
    );
    (with_sections, rest).prop_map(
        |((fibres, strands, sections), (name, note, braiding, piece))| Design {
            name,
            note,
            fibres,
            strands,
            sections,
            braiding,
            piece,
        },
    )
}

/// Any sound file.
pub(crate) fn any_kept() -> impl Strategy<Value = Kept> {
    let sample =
        ("[0-9-]{0,10}", 0.1..20.0, 0.0..1.0).prop_map(|(date, value, tolerance)| Sample {
            date,
            state: State::Rested,
            quantity: Quantity::Thickness,
            value,
            tolerance,
        });
    (any_design(), any::<u64>(), vec(sample, 0..3)).prop_map(|(design, seed, samples)| Kept {
        samples,
        ..Kept::new(design, seed)
    })
}

/// Any edit of strands and parts; some will be refused.
fn any_strand_edit() -> impl Strategy<Value = Edit> {
    let whose = || (vec(0_usize..9, 1..4), 0_usize..3);
    let colour = (whose(), any_colour()).prop_map(|((strands, part), colour)| Edit::Paint {
        strands,
        part: Some(part).filter(|&part| part > 0),
        colour,
    });
    let ends = (whose(), 0_u16..120).prop_map(|((strands, part), ends)| Edit::Ends {
        strands,
        part,
        ends,
    });
    let fibre = (whose(), any_fibre()).prop_map(|((strands, part), fibre)| Edit::PartFibre {
        strands,
        part,
        fibre: Box::new(fibre),
    });
    let less = whose().prop_map(|(strands, part)| Edit::RemovePart { strands, part });
    let more = (whose(), any_fibre(), 1_u16..9).prop_map(|((strands, _), fibre, ends)| {
        let part = Part {
            fibre: fibre.name.clone(),
            ends,
            colour: fibre.colour,
        };
        Edit::AddPart {
            strands,
            part,
            fibre: Box::new(fibre),
        }
    });
    prop_oneof![colour, ends, fibre, less, more]
}

fn any_rework() -> impl Strategy<Value = Rework> {
    let on = prop_oneof![
        (-20..20).prop_map(On::HalfSlots),
        (-9..9).prop_map(On::Strands)
    ];
    prop_oneof![
        Just(Rework::Mirror),
        Just(Rework::Reverse),
        Just(Rework::Double),
        Just(Rework::EveryOtherOut),
        (-40..40).prop_map(Rework::Turn),
        (0_u16..140).prop_map(Rework::Spread),
        vec(0_usize..12, 1..4).prop_map(Rework::Out),
        (0_usize..9).prop_map(|at| Rework::Remove { at }),
        (0_usize..9, 0_usize..9).prop_map(|(from, to)| Rework::Reorder { from, to }),
        (0_usize..9, any_place(), any_place()).prop_map(|(at, from, to)| Rework::Insert {
            at,
            step: Step::one(from, to),
        }),
        (0_usize..5, 0_usize..5, on, 0_usize..4).prop_map(|(from, more, on, times)| {
            Rework::Again {
                steps: from..from + more,
                on,
                times,
            }
        }),
    ]
}

/// Any edit; some will be refused.
pub(crate) fn any_edit() -> impl Strategy<Value = Edit> {
    let moves = proptest::sample::select(structures()).prop_map(|structure| Edit::Moves {
        structure: structure.name,
        moves: structure.moves,
    });
    let lay = (0_usize..9, any_place()).prop_map(|(strand, place)| Edit::Lay { strand, place });
    let cap = || (2_u8..8).prop_map(f64::from);
    let caps = prop_oneof![
        cap().prop_map(Edit::AddCap),
        cap().prop_map(Edit::RemoveCap),
        (cap(), cap()).prop_map(|(from, to)| Edit::ChangeCap { from, to }),
        option::of(cap()).prop_map(Edit::ChooseCap),
    ];
    let name = || "[a-c]".prop_map(String::from);
    let own = || (name(), any_fibre()).prop_map(|(name, fibre)| Box::new(Fibre { name, ..fibre }));
    let fibres = prop_oneof![
        own().prop_map(Edit::AddFibre),
        (name(), own()).prop_map(|(name, fibre)| Edit::ReplaceFibre { name, fibre }),
        name().prop_map(Edit::RemoveFibre),
    ];
    let rest = prop_oneof![
        "[a-z]{0,5}".prop_map(Edit::Rename),
        (-10.0..500.0).prop_map(Edit::Counterweight),
        (3_u16..50).prop_map(Edit::Slots),
        Just(Edit::Mirror),
        "[a-c]{0,3}".prop_map(Edit::NameStructure),
        any_rework().prop_map(Edit::Rework),
        any_piece_edit().prop_map(Edit::Piece),
    ];
    prop_oneof![3 => any_strand_edit(), 1 => moves, 1 => lay, 1 => caps, 1 => fibres, 1 => rest]
}
