//! What each kind of piece starts with: ordinary values, each to be changed.
//!
//! Lengths in mm. Names of necklaces are the trade's and their lengths overlap:
//! common practice, no source, like what closures add. Girths are means of a survey
//! of soldiers of 17 to 58 years, not of everybody: Gordon and others, *2012
//! Anthropometric Survey of U.S. Army Personnel*, NATICK/TR-15/007, 2014.

use super::piece::{Closure, End, Kind, Measure, Piece, Wearer};

/// Where a girth comes from.
const SURVEY: &str = "mean of a survey of soldiers, Gordon and others 2014";
/// Where the rest comes from.
const PRACTICE: &str = "common practice, no source";

/// Room for comfort in a ring, from snug to like a bangle, mm. Common practice, no source.
pub const EASES: [(&str, f64); 4] = [
    ("snug", 5.0),
    ("comfortable", 13.0),
    ("loose", 20.0),
    ("like a bangle", 27.5),
];

/// A measure to start from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usual {
    /// What it is called.
    pub name: &'static str,
    /// The measure.
    pub measure: Measure,
    /// Who wears it.
    pub wearer: Wearer,
    /// Where it comes from.
    pub source: &'static str,
}

const fn long(name: &'static str, length: f64) -> Usual {
    Usual {
        name,
        measure: Measure::Length(length),
        wearer: Wearer::Grown,
        source: PRACTICE,
    }
}

const fn round(name: &'static str, girth: f64, ease: f64) -> Usual {
    Usual {
        name,
        measure: Measure::Round { girth, ease },
        wearer: Wearer::Grown,
        source: SURVEY,
    }
}

const NECKLACES: [Usual; 8] = [
    long("princess", 450.0),
    long("collar", 315.0),
    long("choker", 380.0),
    long("matinee", 550.0),
    long("opera", 780.0),
    long("rope", 1100.0),
    long("man's", 550.0),
    Usual {
        wearer: Wearer::Child,
        ..long("child's", 350.0)
    },
];
const BRACELETS: [Usual; 2] = [
    round("wrist, women", 154.8, 13.0),
    round("wrist, men", 175.9, 13.0),
];
const ANKLETS: [Usual; 2] = [
    round("ankle, women", 215.7, 13.0),
    round("ankle, men", 229.3, 13.0),
];
const LANYARDS: [Usual; 1] = [long("lanyard, its loop", 900.0)];
const FOBS: [Usual; 1] = [long("key fob", 100.0)];
const HANDLES: [Usual; 3] = [
    long("bag handle", 380.0),
    long("shoulder strap", 750.0),
    long("strap across the body", 1250.0),
];
const SPECTACLES: [Usual; 1] = [long("spectacle cord", 700.0)];
const STRAPS: [Usual; 1] = [long("watch strap, both parts", 200.0)];
const FREE: [Usual; 1] = [long("length of cord", 200.0)];

/// What closes pieces, by the name of it.
pub fn closures() -> Vec<Closure> {
    let plain = |name: &str, adds: f64, with_ends: bool| Closure {
        name: name.to_owned(),
        adds,
        with_ends,
        breakaway: false,
        magnetic: false,
    };
    vec![
        Closure {
            breakaway: true,
            magnetic: true,
            ..plain("magnetic clasp, glued in", 18.0, true)
        },
        plain("bayonet clasp, glued in", 20.0, true),
        plain("hook and eye, glued in", 24.0, true),
        plain("toggle, glued in", 28.0, true),
        plain("lobster clasp and rings", 20.0, false),
        plain("lobster clasp", 12.0, false),
        plain("spring ring", 7.0, false),
        plain("box clasp", 14.0, false),
        plain("extender chain", 50.0, false),
        Closure {
            breakaway: true,
            ..plain("safety clip", 25.0, false)
        },
    ]
}

fn closure(name: &str) -> Closure {
    let named = |closure: &Closure| closure.name == name;
    closures().into_iter().find(named).unwrap_or_default()
}

impl Kind {
    /// All kinds, in the order in which they are shown.
    pub const ALL: [Self; 9] = [
        Self::Necklace,
        Self::Bracelet,
        Self::Anklet,
        Self::Lanyard,
        Self::KeyFob,
        Self::BagHandle,
        Self::SpectacleCord,
        Self::WatchStrap,
        Self::Free,
    ];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Necklace => "necklace",
            Self::Bracelet => "bracelet",
            Self::Anklet => "anklet",
            Self::Lanyard => "lanyard",
            Self::KeyFob => "key fob",
            Self::BagHandle => "bag handle",
            Self::SpectacleCord => "spectacle cord",
            Self::WatchStrap => "watch strap",
            Self::Free => "length of cord",
        }
    }

    /// Measures to start from; the first is taken when the kind is picked.
    pub fn usual(self) -> &'static [Usual] {
        match self {
            Self::Necklace => &NECKLACES,
            Self::Bracelet => &BRACELETS,
            Self::Anklet => &ANKLETS,
            Self::Lanyard => &LANYARDS,
            Self::KeyFob => &FOBS,
            Self::BagHandle => &HANDLES,
            Self::SpectacleCord => &SPECTACLES,
            Self::WatchStrap => &STRAPS,
            Self::Free => &FREE,
        }
    }

    /// What usually closes it. Common practice, no source; what a safety clip adds is
    /// our guess.
    fn closure(self) -> Closure {
        match self {
            Self::Necklace | Self::Anklet => closure("lobster clasp and rings"),
            Self::Bracelet => closure("bayonet clasp, glued in"),
            Self::Lanyard => closure("safety clip"),
            _ => Closure::default(),
        }
    }

    /// How its ends are usually finished. Common practice, no source.
    fn ends(self) -> [End; 2] {
        match self {
            Self::KeyFob => [End::Loop { opening: 15.0 }, End::Tassel { length: 40.0 }],
            Self::SpectacleCord => [End::Loop { opening: 10.0 }; 2],
            Self::WatchStrap => [End::Crimp { width: 20.0 }; 2],
            _ => [End::Cap; 2],
        }
    }
}

impl Piece {
    /// The piece as one of another kind: measure, wearer, closure and ends as that
    /// starts with; all else stays.
    #[must_use]
    pub fn of_kind(&self, kind: Kind) -> Self {
        let usual = kind.usual()[0];
        Self {
            kind,
            measure: usual.measure,
            wearer: usual.wearer,
            closure: kind.closure(),
            ends: kind.ends(),
            ..self.clone()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_starts_with_a_closure_that_is_on_the_list_and_every_measure_is_sourced() {
        for kind in Kind::ALL {
            let piece = Piece::default().of_kind(kind);
            assert_eq!(piece.kind, kind);
            let known = piece.closure == Closure::default() || closures().contains(&piece.closure);
            assert!(known, "{kind:?}");
            assert!(kind.usual().iter().all(|usual| !usual.source.is_empty()));
        }
        let lanyard = Piece::default().of_kind(Kind::Lanyard);
        assert!(lanyard.closure.breakaway);
    }

    #[test]
    fn picking_a_kind_leaves_caps_binding_and_counts_alone() {
        let before = Piece {
            cap: Some(5.0),
            from_one_cord: 3,
            glue_gap: 0.2,
            ..Piece::default()
        };
        let after = before.of_kind(Kind::Bracelet);
        assert_eq!(
            (after.cap, after.from_one_cord, after.glue_gap),
            (Some(5.0), 3, 0.2)
        );
        assert!(matches!(after.measure, Measure::Round { .. }));
    }
}
