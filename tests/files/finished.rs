//! The finished designs in `resources/designs/`, made edit by edit of what
//! lies on the shelves.
//!
//! The maker is made up: she has a table of jewellery on the quay of a small
//! harbour town. With `PLAIT_WRITE_DESIGNS` set the files are written anew.

use std::path::{Path, PathBuf};

use plaitwright::cord::Tension;
use plaitwright::document::{Design, Edit, Kept, PieceEdit, open, save};
use plaitwright::material::{Colour, Fibre, Part, on_shelf};
use plaitwright::plan::{Closure, End, Kind, Measure, Pendant};
use plaitwright::structure::{Numbering, Structure, shelf};

fn structure(name: &str, strands: usize) -> &'static Structure {
    let wanted = |structure: &&Structure| structure.name == name && structure.strands() == strands;
    shelf().iter().find(wanted).expect("it is on the shelf")
}

fn fibre(name: &str) -> &'static Fibre {
    on_shelf(name).unwrap_or_else(|| panic!("{name} is not on the shelf"))
}

fn part(fibre: &str, ends: u16, colour: &str) -> Part {
    Part {
        fibre: fibre.into(),
        ends,
        colour: Colour::parse(colour).expect("a colour"),
    }
}

/// A design of a ready list with its name, its remark and its make-ups, laid
/// round the disc in the order of the slots again and again.
fn design(
    structure: &Structure,
    (name, note): (&str, &str),
    make_ups: &[Vec<Part>],
    edits: &[Edit],
) -> Design {
    let mut design = Design::fresh(structure);
    let mut made = |edit: &Edit| design = edit.apply(&design).expect("it can be made");
    made(&Edit::Rename(name.into()));
    made(&Edit::Note(note.into()));
    // Mirrored first, so that make-ups follow the slots as they are braided.
    edits.iter().for_each(&mut made);
    for (k, strand) in design.clone().slot_order().into_iter().enumerate() {
        let parts = make_ups[k % make_ups.len()].clone();
        let fibres = parts
            .iter()
            .map(|part| fibre(&part.fibre).clone())
            .collect();
        let edit = Edit::MakeUp {
            strands: vec![strand],
            parts,
            fibres,
        };
        design = edit.apply(&design).expect("it can be made");
    }
    without_idle_fibres(design)
}

/// What no strand is made of stays on the shelf.
fn without_idle_fibres(mut design: Design) -> Design {
    for name in design.fibres.clone().into_iter().map(|fibre| fibre.name) {
        if design.strands_with(&name).is_empty() {
            design = Edit::RemoveFibre(name).apply(&design).expect("it is idle");
        }
    }
    design
}

fn of_kind(kind: Kind) -> Edit {
    Edit::Piece(PieceEdit::Kind(kind))
}

fn measure(measure: Measure) -> Edit {
    Edit::Piece(PieceEdit::Measure(measure))
}

fn last_end(end: End) -> Edit {
    Edit::Piece(PieceEdit::End { at: 1, end })
}

fn harbour_glass() -> Design {
    let (satin, pearl) = ("satin cord 2 mm, polyester", "pearl cotton no. 5");
    let foam = vec![part(pearl, 5, "#e9f1ec"), part(pearl, 2, "#8fc4b4")];
    let sea = vec![part(satin, 1, "#1d6f78")];
    let bottle = vec![part(satin, 1, "#2f8f6b")];
    let sand = vec![part(pearl, 7, "#d9b77e")];
    design(
        structure("Round spiral", 8),
        (
            "Harbour glass",
            "For the pendants of sea glass. Two satin cords between cottons, so that the light breaks on every second turn.",
        ),
        &[
            sea.clone(),
            foam.clone(),
            sea,
            foam,
            bottle.clone(),
            sand.clone(),
            bottle,
            sand,
        ],
        &[
            Edit::Counterweight(120.0),
            Edit::ChooseCap(Some(6.5)),
            of_kind(Kind::Necklace),
            Edit::Piece(PieceEdit::Pendant(Some(Pendant {
                name: "sea glass".into(),
                bail: 9.0,
                grams: 11.0,
            }))),
        ],
    )
}

fn mooring_ring() -> Design {
    let (lace, foil) = ("leather lace 1.5 mm, round", "metallised braid 0.8 mm");
    let brown = vec![part(lace, 1, "#5b3a26")];
    let brass = vec![part(foil, 3, "#c9a24a")];
    design(
        structure("Round, alternate crossing", 4),
        (
            "Mooring ring",
            "Bracelet for the ferry men: leather as it comes, three ends of brass braid beside it. On the stand.",
        ),
        &[brown, brass],
        &[
            Edit::Tension(Tension::Bobbins(85.0)),
            Edit::Counterweight(100.0),
            Edit::ChooseCap(Some(4.0)),
            of_kind(Kind::Bracelet),
            measure(Measure::Round {
                girth: 178.0,
                ease: 13.0,
            }),
        ],
    )
}

fn slack_water() -> Design {
    let cotton = "crochet cotton no. 10";
    let ends = |colour| vec![part(cotton, 4, colour)];
    let floss = "embroidery floss, all six strands";
    design(
        structure("Round spiral", 12),
        (
            "Slack water",
            "The other hand of the spiral, for the left ear. Cotton in four ends, a glint of floss in every fourth strand.",
        ),
        &[
            ends("#23405f"),
            ends("#4d7ea8"),
            ends("#b7cfdc"),
            vec![part(cotton, 3, "#f3efe2"), part(floss, 1, "#f6d27a")],
        ],
        &[
            Edit::Mirror,
            Edit::Numbering(Numbering::Anticlockwise),
            Edit::Counterweight(80.0),
            Edit::ChooseCap(Some(5.5)),
            measure(Measure::Length(48.0)),
            last_end(End::Tassel { length: 35.0 }),
        ],
    )
}

fn lamp_quay() -> Design {
    let satin = "satin cord 1 mm, viscose on cotton";
    let cord = |colour| vec![part(satin, 1, colour)];
    let foil = vec![part("metallised braid 0.4 mm", 4, "#e0b850")];
    design(
        structure("Round, alternate hands", 16),
        (
            "Lamp quay",
            "Necklace: the lamps along the quay seen from the water. On the stand, all bobbins alike.",
        ),
        &[
            cord("#14203a"),
            cord("#14203a"),
            cord("#2b3f6b"),
            foil,
            cord("#14203a"),
            cord("#14203a"),
            cord("#2b3f6b"),
            cord("#7a2e3a"),
        ],
        &[
            Edit::Tension(Tension::Bobbins(70.0)),
            Edit::Counterweight(500.0),
            Edit::ChooseCap(Some(5.0)),
            of_kind(Kind::Necklace),
            measure(Measure::Length(780.0)),
        ],
    )
}

fn winter_pier() -> Design {
    let wool = "knitting yarn light (weight 3), wool";
    let alpaca = "knitting yarn fine (weight 1 to 2), alpaca";
    let grey = vec![part(wool, 1, "#7b858c")];
    let cream = vec![part(alpaca, 1, "#ece3d2"), part(wool, 1, "#b9c4c9")];
    let red = vec![part(wool, 1, "#a03a32")];
    design(
        structure("Flat, one over one", 7),
        (
            "Winter pier",
            "Band for a wrist warmer, wool and alpaca held together. Little weight, or it grows thin.",
        ),
        &[
            grey.clone(),
            cream.clone(),
            grey.clone(),
            red,
            grey.clone(),
            cream,
            grey,
        ],
        &[
            Edit::Tension(Tension::Slots(0.6)),
            Edit::Counterweight(40.0),
            Edit::ChooseCap(Some(5.0)),
            of_kind(Kind::Bracelet),
            Edit::Piece(PieceEdit::Closure(Closure::default())),
            Edit::Piece(PieceEdit::End {
                at: 0,
                end: End::Loop { opening: 20.0 },
            }),
            last_end(End::Button { across: 18.0 }),
        ],
    )
}

fn file(design: &Design) -> PathBuf {
    let name = design.name.to_lowercase().replace(' ', "-");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("resources/designs");
    folder.join(name).with_extension("plait")
}

#[test]
fn the_finished_designs_are_made_of_the_shelves() {
    let designs = [
        harbour_glass(),
        mooring_ring(),
        slack_water(),
        lamp_quay(),
        winter_pier(),
    ];
    for (seed, design) in (1..).zip(designs) {
        let path = file(&design);
        let kept = Kept::new(design, seed);
        if std::env::var_os("PLAIT_WRITE_DESIGNS").is_some() {
            save(&path, &kept).expect("the folder can be written to");
        }
        let is_as_made = open(&path) == Ok(kept);
        assert!(
            is_as_made,
            "{} is older than the shelves: run this test once with PLAIT_WRITE_DESIGNS=1",
            path.display()
        );
    }
}
