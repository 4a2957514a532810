//! The shelf every maker starts with, read from `resources/fibres.ron`.
//!
//! In the file a figure is written `(value, low, high, standing)`; a row
//! without an appearance looks as its construction does.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Appearance, Colour, Construction, Fibre, Known, Label, Packing, Standing};

#[derive(Deserialize)]
struct Figure(f64, f64, f64, Standing);

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PackingRow {
    free: Figure,
    in_braid: Figure,
    closest: Figure,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    substance: String,
    construction: Construction,
    label: Label,
    diameter: Figure,
    tex: Figure,
    density: Figure,
    packing: PackingRow,
    friction: Figure,
    shortens: Figure,
    lengthens: Figure,
    stiffness: u8,
    #[serde(default)]
    flat: Option<(f64, f64)>,
    colour: Colour,
    #[serde(default)]
    appearance: Option<Appearance>,
    #[serde(default)]
    note: String,
}

impl From<Figure> for Known {
    fn from(Figure(value, low, high, standing): Figure) -> Self {
        Self::new(value, low, high, standing)
    }
}

impl From<Row> for Fibre {
    fn from(row: Row) -> Self {
        Self {
            appearance: row
                .appearance
                .unwrap_or_else(|| row.construction.appearance()),
            name: row.name,
            substance: row.substance,
            construction: row.construction,
            label: row.label,
            diameter: row.diameter.into(),
            tex: row.tex.into(),
            density: row.density.into(),
            packing: Packing {
                free: row.packing.free.into(),
                in_braid: row.packing.in_braid.into(),
                closest: row.packing.closest.into(),
            },
            friction: row.friction.into(),
            shortens: row.shortens.into(),
            lengthens: row.lengthens.into(),
            stiffness: row.stiffness,
            flat: row.flat,
            colour: row.colour,
            note: row.note,
        }
    }
}

static SHELF: LazyLock<Vec<Fibre>> = LazyLock::new(|| {
    read(include_str!("../../resources/fibres.ron")).expect("the bundled shelf reads (tested)")
});

fn read(text: &str) -> Result<Vec<Fibre>, ron::error::SpannedError> {
    let rows: Vec<Row> = ron::from_str(text)?;
    Ok(rows.into_iter().map(Fibre::from).collect())
}

/// The fibres everyone starts with; read once.
pub fn shelf() -> &'static [Fibre] {
    &SHELF
}

/// The fibre of this name on the shelf everyone starts with.
pub fn on_shelf(name: &str) -> Option<&'static Fibre> {
    SHELF.iter().find(|fibre| fibre.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fibre_of_the_shelf_can_be() {
        assert_eq!(shelf().len(), 97);
        for fibre in shelf() {
            assert_eq!(fibre.check(), Ok(()), "{}", fibre.name);
        }
    }

    #[test]
    fn no_two_fibres_of_the_shelf_share_a_name() {
        let mut names: Vec<_> = shelf().iter().map(|fibre| &fibre.name).collect();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), shelf().len());
    }

    #[test]
    fn ribbons_and_flat_laces_know_their_width() {
        let flat: Vec<_> = shelf().iter().filter_map(|fibre| fibre.flat).collect();
        assert_eq!(flat, [(3.0, 0.25), (6.0, 0.25), (6.0, 0.1), (3.0, 1.5)]);
        assert!(on_shelf("leather lace 2 mm, round").is_some_and(|lace| lace.flat.is_none()));
    }

    // Common practice of the trade: the same figures as the skein labels give.
    #[test]
    fn a_five_gram_skein_of_pearl_five_is_25_metres() {
        let pearl = on_shelf("pearl cotton no. 5").unwrap();
        assert!((pearl.tex.value * 0.025 - 5.0).abs() < 1e-9);
        assert!((pearl.diameter.value - 0.627).abs() < 1e-3);
    }

    #[test]
    fn a_figure_the_shelf_does_not_know_is_refused_with_its_line() {
        let refused = read("[\n(name: \"a\", weight: 3)]").unwrap_err();
        assert!(refused.to_string().contains("weight"), "{refused}");
        assert_eq!(refused.span.start.line, 2);
    }
}
