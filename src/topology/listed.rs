//! The lists of `tests/verdicts.ron`, for the tests of this room.

use serde::Deserialize;

use crate::structure::{Braid, MoveList};

/// A list with what was found about it.
#[derive(Debug, Deserialize)]
pub(super) struct Listed {
    pub(super) name: String,
    pub(super) sort: String,
    pub(super) turn: i32,
    #[serde(default)]
    pub(super) word: Vec<i32>,
    #[serde(default)]
    pub(super) cycles: Vec<Vec<usize>>,
    #[serde(default)]
    pub(super) stretch: f64,
    #[serde(default)]
    pub(super) never_lifted: Vec<usize>,
    #[serde(default)]
    pub(super) symmetry: Option<(usize, usize)>,
    pub(super) moves: MoveList,
}

/// All lists.
pub(super) fn listed() -> Vec<Listed> {
    let listed: Vec<Listed> =
        ron::from_str(include_str!("../../tests/verdicts.ron")).expect("test data");
    assert_eq!(listed.len(), 59);
    listed
}

/// Those without fault.
pub(super) fn checked() -> impl Iterator<Item = (Listed, Braid)> {
    let sound = listed().into_iter().filter(|one| one.sort != "fault");
    sound.map(|one| {
        let braid = Braid::new(&one.moves).expect(&one.name);
        (one, braid)
    })
}
