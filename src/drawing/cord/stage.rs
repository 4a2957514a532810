//! One cord and its pictures: what is worth keeping between them is kept.

use rayon::prelude::*;

use super::glimpse::{Eye, Seen};
use super::ground::{Cloth, Shade, shaded_layer};
use super::hairs::Comb;
use super::halo::{HairColour, Halo};
use super::layer::{Layer, Pixel};
use super::light::Studio;
use super::look::Look;
use super::makeup::MakeUp;
use super::occlusion::Occlusion;
use super::paint::{Painted, Painter};
use super::run::Run;
use super::surface::Dye;
use super::tubes::{Camera, Tubes};
use super::visibility::Sight;
use crate::cord::Form;
use crate::drawing::raster::Raster;
use crate::drawing::thread::Thread;
use crate::drawing::view::{Detail, Ground, View};

/// A cord made ready to be pictured again and again.
///
/// Keeps the last ground and, for each detail, what was last seen and how it
/// takes the light: a picture that differs from it only in the colours of its
/// threads costs a small part of the first.
pub struct Stage {
    run: Option<Run>,
    studio: Studio,
    cloth: Option<Cloth>,
    /// The last scene of each detail.
    scenes: [Option<Scene>; 3],
}

impl std::fmt::Debug for Stage {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Stage")
            .field("run", &self.run)
            .finish_non_exhaustive()
    }
}

/// Most places and pixels under hairs kept painted, 45 and some 30 bytes each: more are painted anew for new
/// colours. A strip of 3840 by 700 pixels has about a million and a half.
const MOST_PLACES: usize = 2_000_000;

/// What is seen, whatever the colours.
struct Scene {
    view: View,
    detail: Detail,
    threads: Vec<Thread>,
    camera: Camera,
    tubes: Tubes,
    sight: Sight,
    occlusion: Occlusion,
    /// Columns of the picture without colours, once they are painted.
    painted: Vec<Painted>,
    halos: Vec<Halo>,
}

/// The picture of a cord, made from nothing.
///
/// `threads` says what each strand of the form is made of, in the design's
/// order; they begin again from the first when there are fewer, and without
/// any the cord is grey. The picture has the view's size, at most 8 million
/// pixels. A form that cannot be drawn gives the ground alone.
pub fn cord_picture(
    form: &Form,
    threads: &[Thread],
    view: &View,
    ground: &Ground,
    detail: Detail,
) -> Raster {
    Stage::new(form).picture(threads, view, ground, detail)
}

impl Stage {
    /// A stage for this cord.
    pub fn new(form: &Form) -> Self {
        Self {
            run: Run::new(form),
            studio: Studio::new(),
            cloth: None,
            scenes: [None, None, None],
        }
    }

    /// Another cord on the same ground.
    pub fn show(&mut self, form: &Form) {
        self.run = Run::new(form);
        self.scenes = [None, None, None];
    }

    /// The cord's picture; see [`cord_picture`].
    pub fn picture(
        &mut self,
        threads: &[Thread],
        view: &View,
        ground: &Ground,
        detail: Detail,
    ) -> Raster {
        let full = view.bounded();
        let view = if detail == Detail::Moving {
            full.halved()
        } else {
            full
        };
        self.lay_cloth(ground, full.width, full.height);
        let layer = self.layer(threads, &view, ground, detail);
        let empty = Layer {
            width: full.width,
            top: 0,
            pixels: Vec::new(),
        };
        let layer = match layer {
            Some(layer) if detail == Detail::Moving => layer.doubled(full.width, full.height),
            Some(layer) => layer,
            None => empty,
        };
        let cloth = self.cloth.as_ref().expect("laid above");
        layer.onto(cloth)
    }

    fn lay_cloth(&mut self, ground: &Ground, width: usize, height: usize) {
        if !self
            .cloth
            .as_ref()
            .is_some_and(|c| c.fits(ground, width, height))
        {
            self.cloth = Some(Cloth::new(ground, width, height));
        }
    }

    /// What is seen of each strand in a view, or nothing without a cord.
    pub(crate) fn seen(&self, threads: &[Thread], view: &View) -> Option<Seen> {
        let run = self.run.as_ref()?;
        let threads = threads_of(run.strands, threads);
        let scene = Scene::new(run, &self.studio, &threads, &view.bounded(), Detail::Fine);
        let looks: Vec<Vec<Look>> = threads.iter().map(Look::all).collect();
        let eye = Eye {
            studio: &self.studio,
            camera: &scene.camera,
            tubes: &scene.tubes,
            sight: &scene.sight,
            occlusion: &scene.occlusion,
            looks: &looks,
        };
        Some(eye.seen())
    }

    /// The cord and its shadow, or nothing without a cord.
    pub(super) fn layer(
        &mut self,
        threads: &[Thread],
        view: &View,
        ground: &Ground,
        detail: Detail,
    ) -> Option<Layer> {
        let run = self.run.as_ref()?;
        let threads = threads_of(run.strands, threads);
        let place = &mut self.scenes[detail as usize];
        let kept = place.take().filter(|s| s.shows(&threads, view));
        let fresh = || Scene::new(run, &self.studio, &threads, view, detail);
        let scene = place.insert(kept.unwrap_or_else(fresh));
        let looks: Vec<Vec<Look>> = threads.iter().map(Look::all).collect();
        scene.paint(&self.studio, &looks);
        let layer = scene.layer(&self.studio, &looks, ground, run.reach);
        scene.forget_the_huge();
        Some(layer)
    }
}

/// A thread for each strand.
pub(super) fn threads_of(strands: usize, threads: &[Thread]) -> Vec<Thread> {
    let thread = |i: usize| match threads.get(i % threads.len().max(1)) {
        Some(thread) if !thread.ends.is_empty() => thread.clone(),
        _ => Thread::plain(),
    };
    (0..strands).map(thread).collect()
}

/// Samples of flat strands lie closer by this: their edges bend and turn faster. Tried.
const FLAT_STEP: f32 = 0.5;

/// Strands without plies bend no more than the cord makes them. Tried.
const UNWOUND_STEP: f32 = 1.4;

/// Distance between samples of a strand: closer when seen closely.
fn step(zoom: f32, detail: Detail) -> f32 {
    match detail {
        Detail::Moving | Detail::Coarse => 0.22,
        Detail::Fine if zoom > 60.0 => 0.075,
        Detail::Fine if zoom > 30.0 => 0.11,
        Detail::Fine => 0.21,
    }
}

/// The strands that a camera sees.
pub(super) fn tubes_in(run: &Run, threads: &[Thread], camera: &Camera, detail: Detail) -> Tubes {
    let makeups: Vec<MakeUp> = threads.iter().map(MakeUp::new).collect();
    let closer = if run.is_flat() { FLAT_STEP } else { 1.0 };
    let wound = makeups.iter().any(MakeUp::is_wound);
    let closer = if wound { closer } else { closer * UNWOUND_STEP };
    Tubes::new(run, &makeups, camera, closer * step(camera.zoom, detail))
}

/// Samples in a pixel: more where strands are thin.
pub(super) fn sight_samples(camera: &Camera, detail: Detail) -> usize {
    let zoom = camera.zoom;
    match detail {
        Detail::Moving | Detail::Coarse if zoom > 8.0 => 2,
        Detail::Moving | Detail::Coarse => 4,
        Detail::Fine if zoom > 14.0 => 4,
        Detail::Fine if zoom > 8.0 => 9,
        Detail::Fine => 16,
    }
}

impl Scene {
    fn new(run: &Run, studio: &Studio, threads: &[Thread], view: &View, detail: Detail) -> Self {
        let camera = Camera::new(view, run);
        let tubes = tubes_in(run, threads, &camera, detail);
        let sight = Sight::new(&tubes, &camera, run.reach, sight_samples(&camera, detail));
        let occlusion = Occlusion::new(&sight, &camera, studio, run.reach);
        Self {
            view: *view,
            detail,
            threads: threads.to_vec(),
            camera,
            tubes,
            sight,
            occlusion,
            painted: Vec::new(),
            halos: Vec::new(),
        }
    }

    /// Whether this is what would be seen of these threads.
    fn shows(&self, threads: &[Thread], view: &View) -> bool {
        self.view == *view
            && self
                .threads
                .iter()
                .zip(threads)
                .all(|(a, b)| a.same_shape(b))
    }

    /// Paints the columns, unless they are kept.
    fn paint(&mut self, studio: &Studio, looks: &[Vec<Look>]) {
        if !self.painted.is_empty() {
            return;
        }
        let painter = Painter {
            studio,
            camera: &self.camera,
            tubes: &self.tubes,
            sight: &self.sight,
            occlusion: &self.occlusion,
            looks,
            detail: self.detail,
        };
        self.painted = painter.paint();
        if self.detail == Detail::Fine {
            self.halos = self.comb(studio, looks).combed();
        }
    }

    fn comb<'a>(&'a self, studio: &'a Studio, looks: &'a [Vec<Look>]) -> Comb<'a> {
        Comb {
            studio,
            camera: &self.camera,
            tubes: &self.tubes,
            sight: &self.sight,
            occlusion: &self.occlusion,
            looks,
        }
    }

    /// Drops the painted columns where they would take too much room.
    fn forget_the_huge(&mut self) {
        let places: usize = self.painted.iter().map(|painted| painted.at.len()).sum();
        let under_hairs: usize = self.halos.iter().map(Halo::size).sum();
        if places + under_hairs > MOST_PLACES {
            (self.painted, self.halos) = (Vec::new(), Vec::new());
        }
    }

    /// The painted columns in the colours of these looks laid over the layer.
    fn dye(&self, studio: &Studio, looks: &[Vec<Look>], layer: &mut Layer) {
        let dyes: Vec<Vec<Dye>> = looks
            .iter()
            .map(|ends| ends.iter().map(Dye::new).collect())
            .collect();
        let (rows, samples) = (self.sight.rows(), self.sight.samples);
        let columns: Vec<(usize, Vec<Pixel>)> = self
            .painted
            .par_iter()
            .zip(&self.sight.columns)
            .map(|(painted, column)| {
                let size = column.width * rows;
                (column.width, painted.dyed(studio, &dyes, size, samples))
            })
            .collect();
        layer.lay(self.sight.top - layer.top, rows, &columns);
        if !self.halos.is_empty() {
            let hair = |look| HairColour::new(studio, look);
            let colours: Vec<Vec<HairColour>> = looks
                .iter()
                .map(|ends| ends.iter().map(hair).collect())
                .collect();
            layer.comb(&self.halos, &colours);
        }
    }

    fn layer(&self, studio: &Studio, looks: &[Vec<Look>], ground: &Ground, reach: f32) -> Layer {
        let (width, height) = (self.camera.width, self.camera.height);
        let thick = 2.0 * reach * self.camera.zoom;
        let shade = Shade::new(&self.sight, width, height, thick, ground);
        let margin = if self.detail == Detail::Fine {
            self.comb(studio, looks).margin()
        } else {
            0
        };
        let mut layer = shaded_layer(&self.sight, width, height, shade.as_ref(), margin);
        self.dye(studio, looks, &mut layer);
        layer
    }
}
