//! Pictures of stored cords, beside pictures that were looked at and kept.
//!
//! The cords are solved ones, written down to a tenth of a thousandth of a millimetre, so
//! that a better solve does not change these pictures: only another way of drawing does.
//! `PLAIT_WRITE_PICTURES=1 cargo test --test pictures -- --test-threads 1` writes them anew; look at each.
#![expect(clippy::unwrap_used, reason = "a test may panic")]

use std::path::{Path, PathBuf};

use plaitwright::cord::{Form, Progress, Quality, Recipe, Tension, Twist, solve};
use plaitwright::drawing::{Bend, Detail, Ground, Raster, Thread, View, cord_picture, png};
use plaitwright::material::{Colour, Construction, Strand, on_shelf};
use plaitwright::structure::shelf;
use serde::{Deserialize, Serialize};

/// Levels of a colour that two machines may differ by: the sine and the root of a system
/// are its own in the last digit.
const LEVELS: u8 = 3;
/// Share of the bytes that may differ by more: where an edge falls on a sample.
const EDGES: f64 = 1e-3;

/// A solved cord as it is kept.
#[derive(Serialize, Deserialize)]
struct Kept {
    strands: usize,
    nodes: usize,
    continues: Vec<usize>,
    points: Vec<[f64; 3]>,
    radius: Vec<f64>,
    wide: Vec<[f64; 3]>,
    lift: f64,
    turn: f64,
}

fn rounded(value: f64) -> f64 {
    (value * 1e4).round() / 1e4
}

impl Kept {
    fn of(form: &Form) -> Self {
        Self {
            strands: form.strands,
            nodes: form.nodes,
            continues: form.continues.clone(),
            points: form.points.iter().map(|p| p.map(rounded)).collect(),
            radius: form.radius.iter().copied().map(rounded).collect(),
            wide: form.wide.iter().map(|p| p.map(rounded)).collect(),
            lift: rounded(form.lift),
            turn: form.turn,
        }
    }

    fn form(self) -> Form {
        Form {
            strands: self.strands,
            nodes: self.nodes,
            continues: self.continues,
            points: self.points,
            radius: self.radius,
            wide: self.wide,
            lift: self.lift,
            turn: self.turn,
        }
    }
}

fn place(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/pictures")
        .join(name)
}

fn writes() -> bool {
    std::env::var_os("PLAIT_WRITE_PICTURES").is_some()
}

/// The stored cord of a structure, of so many strands of a fibre.
fn stored(file: &str, (name, count): (&str, usize), fibre: &str) -> Form {
    let path = place(file);
    if writes() {
        let structure = shelf()
            .iter()
            .find(|it| it.name == name && it.strands() == count);
        let fibres = [on_shelf(fibre).unwrap().clone()];
        let strands = vec![Strand::single(fibre, Colour::BLACK); count];
        let (pull, twist) = (Tension::Slots(0.6), Twist::Free);
        let moves = &structure.unwrap().moves;
        let recipe = Recipe::new(moves, &strands, &fibres, pull, 70.0, twist).unwrap();
        let cord = solve(&recipe, None, Quality::Coarse, &Progress::new()).unwrap();
        std::fs::write(&path, ron::to_string(&Kept::of(&cord.form)).unwrap()).unwrap();
    }
    let text = std::fs::read_to_string(path).unwrap();
    ron::from_str::<Kept>(&text).unwrap().form()
}

fn threads(kinds: &[Construction]) -> Vec<Thread> {
    let dyes = [
        [0x1d, 0x6b, 0x77],
        [0xee, 0xe6, 0xd2],
        [0xb9, 0x62, 0x36],
        [0x2b, 0x37, 0x5b],
    ];
    let both = kinds.iter().cycle().zip(dyes.iter().cycle());
    let thread =
        |(kind, dye): (&Construction, &[u8; 3])| Thread::single(kind.appearance(), Colour(*dye));
    both.take(8).map(thread).collect()
}

fn picture(form: &Form, kinds: &[Construction]) -> Raster {
    let reach = form
        .points
        .iter()
        .map(|p| p[0].hypot(p[1]))
        .fold(0.0, f64::max);
    let view = View {
        width: 360,
        height: 110,
        pixels_per_mm: 40.0 / (reach + form.radius[0]),
        start_mm: 0.0,
        roll: 0.4,
        centre_x: 180.0,
        centre_y: 52.0,
        bend: Bend::Straight,
    };
    let ground = Ground::Plain {
        colour: Colour([0xe3, 0xda, 0xca]),
        shadow: 0.42,
    };
    cord_picture(form, &threads(kinds), &view, &ground, Detail::Fine)
}

fn kept(file: &str) -> Raster {
    let image = image::open(place(file)).unwrap().into_rgba8();
    let (width, height) = (image.width() as usize, image.height() as usize);
    Raster {
        width,
        height,
        rgba: image.into_raw(),
    }
}

fn looks_as_kept(form: &Form, file: &str, kinds: &[Construction]) {
    let drawn = picture(form, kinds);
    if writes() {
        std::fs::write(place(file), png(&drawn, 10.0).unwrap()).unwrap();
    }
    let kept = kept(file);
    assert_eq!((drawn.width, drawn.height), (kept.width, kept.height));
    let pairs = drawn.rgba.iter().zip(&kept.rgba);
    let off = pairs.filter(|(a, b)| a.abs_diff(**b) > LEVELS).count();
    let share = off as f64 / drawn.rgba.len() as f64;
    assert!(share < EDGES, "{file}: {share} of the bytes are others");
}

#[test]
fn stored_cords_look_as_they_did_when_they_were_looked_at() {
    use Construction as C;
    let spiral = stored(
        "spiral.ron",
        ("Round spiral", 8),
        "satin cord 2 mm, polyester",
    );
    looks_as_kept(&spiral, "satin.png", &[C::SatinCord]);
    looks_as_kept(
        &spiral,
        "cotton-and-pearl.png",
        &[C::CrochetCotton, C::PearlCotton],
    );
    looks_as_kept(
        &spiral,
        "wool-and-chenille.png",
        &[C::KnittingWool, C::Chenille],
    );
    looks_as_kept(
        &spiral,
        "leather-and-metal.png",
        &[C::Leather, C::MetallicBraid],
    );
    looks_as_kept(
        &spiral,
        "beads-and-satin.png",
        &[C::StrungBeads, C::SatinCord],
    );
    let flat = stored(
        "flat.ron",
        ("Flat, one over one", 5),
        "woven satin ribbon 3 mm",
    );
    looks_as_kept(&flat, "ribbon.png", &[C::Ribbon]);
}

#[test]
fn another_colour_or_fibre_is_another_picture() {
    // So that a picture that tells nothing apart would be noticed.
    let spiral = stored(
        "spiral.ron",
        ("Round spiral", 8),
        "satin cord 2 mm, polyester",
    );
    let satin = picture(&spiral, &[Construction::SatinCord]);
    for kind in [
        Construction::PearlCotton,
        Construction::Leather,
        Construction::KnittingWool,
    ] {
        let other = picture(&spiral, &[kind]);
        let pairs = satin.rgba.iter().zip(&other.rgba);
        let off = pairs.filter(|(a, b)| a.abs_diff(**b) > LEVELS).count();
        assert!(
            off as f64 > 0.1 * satin.rgba.len() as f64,
            "{kind:?}: {off}"
        );
    }
}
