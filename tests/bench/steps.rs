//! From a press at the disc to the picture of the next move: written to the disk, worked
//! out, drawn and cut into triangles; all but what the graphics card does.

use std::path::Path;
use std::time::{Duration, Instant};

use eframe::egui::{Event, Key, Modifiers, vec2};
use egui_kittest::Harness;
use plaitwright::app::App;
use plaitwright::app::settings::Settings;
use plaitwright::bench::{Entry, Stamped};
use plaitwright::cord::{Quality, solve};
use plaitwright::document::{
    Begun, Design, Journal, Kept, PIECES, example_workshop, examples, save,
};
use plaitwright::mechanics::Progress;
use plaitwright::plan::outlook;
use plaitwright::quantity::UnitSystem;
use plaitwright::structure::shelf;

use super::clock::{Times, once, print_head, print_row};

/// Presses that are timed.
const PRESSES: usize = 120;
/// One frame of a screen at 60 Hz, ms.
const FRAME: f64 = 1000.0 / 60.0;
/// Moves that lie in the cord before: its log is read at every step.
const DONE: u64 = 2000;

/// An example and the list of most strands.
pub(super) fn pressed() {
    print_head("A step at the disc: pressed, written, drawn");
    let most = shelf().iter().max_by_key(|it| it.strands());
    let designs = [Some(examples()[0].clone()), most.map(Design::fresh)];
    for design in designs.into_iter().flatten() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = begun(&design, folder.path());
        let what = format!("{}, {} strands", design.name, design.strands.len());
        let [written, whole] = steps(folder.path(), &file);
        print_row(&what, &whole, Some(FRAME));
        print_row(&format!("{what}: of this the disk"), &written, None);
    }
}

/// A saved design with a cord under way; its file.
fn begun(design: &Design, home: &Path) -> std::path::PathBuf {
    let file = home.join("timed.plait");
    let kept = Kept::new(design.clone(), 7);
    save(&file, &kept).expect("the file is written");
    let recipe = design.recipe().expect("a sound design");
    let cord = solve(&recipe, None, Quality::Fine, &Progress::new());
    let figures = cord.expect("a design that makes a cord").figures;
    let units = UnitSystem::Millimetres;
    let outlook = design.on_the_table(&figures, example_workshop(), units, outlook);
    let begun = Begun::new(kept.id.clone(), design.clone(), outlook, 0, 7);
    let mut journal = Journal::begin(&home.join(PIECES), begun).expect("a journal");
    let stamped = |at: u64, entry| Stamped { at, entry };
    let laid = Entry::Laid(design.strands.len());
    let entries = std::iter::once(laid).chain((1..=DONE).map(Entry::Done));
    for (at, entry) in (0..).zip(entries) {
        let written = journal.write(&stamped(2000 * at, entry));
        written.expect("it is written");
    }
    file
}

/// Times of the disk alone and of the whole step.
fn steps(home: &Path, file: &Path) -> [Times; 2] {
    let (folder, opened) = (home.to_path_buf(), Some(file.to_path_buf()));
    let mut harness = Harness::builder()
        .with_size(vec2(1440.0, 900.0))
        .build_eframe(move |cc| App::new(&cc.egui_ctx, folder, Settings::default(), opened));
    settle(&mut harness);
    press(&mut harness, Key::Num4, Modifiers::COMMAND);
    let before = done(&harness);
    let whole = (0..PRESSES).map(|_| {
        // Presses that follow one another too closely are one.
        harness.run_steps(2);
        once(|| press(&mut harness, Key::Space, Modifiers::NONE)).0
    });
    let whole = Times::from(whole.collect::<Vec<f64>>());
    assert_eq!(
        done(&harness),
        before + PRESSES as u64,
        "every press counted"
    );
    [written(home), whole]
}

/// One press, its frame and the triangles.
fn press(harness: &mut Harness<'_, App>, key: Key, modifiers: Modifiers) -> usize {
    for pressed in [true, false] {
        harness.input_mut().events.push(Event::Key {
            key,
            physical_key: None,
            pressed,
            repeat: false,
            modifiers,
        });
    }
    harness.step();
    let shapes = harness.output().shapes.clone();
    harness.ctx.tessellate(shapes, 1.0).len()
}

fn done(harness: &Harness<'_, App>) -> u64 {
    let work = harness.state().at_disc().work();
    work.expect("the cord is at the disc").course().done
}

/// Until nothing is worked out any more beside.
fn settle(harness: &mut Harness<'_, App>) {
    let until = Instant::now() + Duration::from_secs(180);
    while harness.state().solver().solved().is_busy() && Instant::now() < until {
        std::thread::sleep(Duration::from_millis(30));
        harness.step();
    }
}

/// Times of a line added to a file and kept.
fn written(home: &Path) -> Times {
    let path = home.join("line");
    let write = || {
        use std::io::Write;
        let mut file = std::fs::OpenOptions::new()
            .create(true)
            .append(true)
            .open(&path)?;
        file.write_all(&[b'x'; 40])?;
        file.sync_data()
    };
    Times::of(PRESSES, || write().expect("the line is kept"))
}
