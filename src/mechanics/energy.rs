//! The energy of a shape, and its slope.
//!
//! Letters: `d` the step from a node to the next, `n` number of steps in a
//! strand cycle, `S = Σ|d|²`, spacing `l = √(S/n)`, `T` pull, `B` bending
//! stiffness, `F` hanging weight, `H` rise of the cell, `u` squeeze of a node.
//! Lengths in strand diameters, forces in the reference pull.
//!
//! * pull: `T √(n S)`, or a stiff spring where a length is kept. It pulls with `T`
//!   and spaces the nodes evenly; plain length lets nodes bunch up (tried).
//! * bending: `B / (2 l³) Σ|Δd|²`.
//! * contact: see `contact`.
//! * weight: `-F H`.
//! * squeeze: `l Σ U(u)`, see `fibre`.
//! * band: its squeeze times its radius times `H`.
//!
//! The spacing `l` stands *inside* the energy. Held fixed and renewed between
//! solves it makes the answer depend on the path (tried: rise 1.897 or 1.916).

use super::contact::{self, Contact, Pressed, Pressing};
use super::cost;
use super::cycle::Cycle;
use super::fence::{self, Breach};
use super::fibre::{self, Work};
use super::images::Images;
use super::layout::{BAND, LIFT, Layout, SQUEEZE, TURN};
use super::minimise::Landscape;
use super::ovals::Ovals;
use super::pairs::{Pairs, levels_in_reach};
use super::passage;
use super::precondition::Stiffness;
use super::schedule::FIRM;
use super::tubes::{Ends, Tubes};

/// Rise below which a cell counts as collapsed, strand diameters.
const COLLAPSED: f64 = 0.05;

/// The same for either period of a lattice: strands of a narrower one touch their own
/// images farther off than is looked.
const CROWDED: f64 = 0.2;

/// Change of spacing at which a stage is begun anew, since it counts arcs by
/// the spacing at its start. Unlocked strands would otherwise seem to press on
/// themselves as they shrink (tried).
const OUTGROWN: f64 = 1.25;

/// The energy of some tubes at some contact stiffness.
#[derive(Debug, Clone)]
pub(super) struct Energy<'a> {
    pub tubes: &'a Tubes,
    pub layout: Layout,
    pub images: Images,
    pub pairs: Pairs,
    pub cycles: Vec<Cycle>,
    pub pressed: Vec<Pressed>,
    /// Cycle of each node.
    pub cycle_of: Vec<u32>,
    /// Contact stiffness.
    pub stiffness: f64,
    pub band: f64,
    /// Squeezed radius of each node.
    pub radius: Vec<f64>,
    /// Work of the squeeze of each node; empty where nothing gives.
    pub work: Vec<Work>,
    pub ovals: Ovals,
    /// Pairs whose steps might be too near.
    pub fenced: Vec<[u32; 2]>,
    /// Spacing by which a strand's own arc is counted; fixed for a stage.
    arc_spacing: Vec<f64>,
}

impl<'a> Energy<'a> {
    pub(super) fn new(tubes: &'a Tubes) -> Self {
        let layout = Layout::new(tubes);
        let cycles: Vec<Cycle> = layout
            .cycles
            .iter()
            .map(|cycle| Cycle::of(tubes, cycle))
            .collect();
        let nodes = 0..tubes.count();
        Self {
            images: Images::new(&layout),
            pairs: Pairs::default(),
            pressed: vec![Pressed::default(); cycles.len()],
            cycle_of: nodes
                .map(|node| layout.cycle_of_node(node) as u32)
                .collect(),
            stiffness: 1.0,
            band: 0.0,
            radius: tubes.radius.clone(),
            work: Vec::new(),
            ovals: Ovals::new(tubes, &layout),
            fenced: Vec::new(),
            arc_spacing: vec![0.0; cycles.len()],
            cycles,
            layout,
            tubes,
        }
    }

    /// All that press on each other.
    pub(super) fn contacts(&self) -> impl Iterator<Item = Pressing> + '_ {
        (0..self.layout.count()).flat_map(move |node| {
            let partners = self.pairs.of(node).iter();
            partners.filter_map(move |&image| self.pressing(node, image as usize))
        })
    }

    fn pressing(&self, node: usize, image: usize) -> Option<Pressing> {
        let (touch, normal) = self.contact(node, image)?;
        Some(Pressing {
            sides: [node, image],
            own: [node, self.images.own(image)],
            touch,
            normal,
        })
    }

    /// Steps that begin at listed pairs and are too near.
    pub(super) fn breaches(&self) -> impl Iterator<Item = Breach> + '_ {
        let pairs = self.fenced.iter();
        pairs.filter_map(|&[node, image]| self.breach(node as usize, image as usize))
    }

    /// The contact of a node with an image, and its direction, if they press.
    fn contact(&self, node: usize, image: usize) -> Option<(Contact, [f64; 3])> {
        let spacing = |node: usize| self.pressed[self.cycle_of[node] as usize].spacing;
        let spacings = spacing(node) * spacing(self.images.own(image));
        if self.layout.flattens {
            let pair = [node, image];
            return self
                .ovals
                .contact(&self.images, pair, spacings, self.stiffness);
        }
        let (p, q) = (self.images.points[node], self.images.points[image]);
        let d = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
        let square: f64 = d.iter().map(|x| x * x).sum();
        let radii = p[3] + q[3];
        if square >= radii * radii || square == 0.0 {
            return None;
        }
        let touch = Contact::new(square, radii, spacings, self.stiffness);
        Some((touch, d.map(|x| x / touch.distance)))
    }

    /// Spacing of the nodes of the strand of `node`.
    pub(super) fn spacing_at(&self, node: usize) -> f64 {
        self.pressed[self.cycle_of[node] as usize].spacing
    }

    /// Squeeze of a node.
    pub(super) fn squeeze_at(&self, node: usize) -> f64 {
        (self.tubes.radius[node] / self.radius[node]).ln()
    }

    /// What the band is squeezed with.
    pub(super) fn band_squeeze(&self) -> f64 {
        self.tubes.band
    }

    /// Begin a stage with another contact stiffness.
    pub(super) fn stiffen(&mut self, at: &[f64], stiffness: f64) {
        self.stiffness = stiffness;
        self.place(at);
        self.measure_steps();
        for (spacing, cycle) in self.arc_spacing.iter_mut().zip(&self.cycles) {
            *spacing = cycle.spacing();
        }
        self.pairs.forget();
    }

    /// Whether steps have become so much longer or shorter in this stage that
    /// arcs are miscounted.
    pub(super) fn has_outgrown(&self) -> bool {
        let mut both = self.cycles.iter().zip(&self.arc_spacing);
        both.any(|(cycle, &then)| !(1.0 / OUTGROWN..OUTGROWN).contains(&(cycle.spacing() / then)))
    }

    /// Least distance of any two nodes over the sum of their radii.
    pub(super) fn least_gap(&self) -> f64 {
        contact::least_gap(&self.pairs, &self.images, self.layout.count())
    }

    pub(super) fn place(&mut self, at: &[f64]) {
        self.band = at[self.layout.place(BAND)];
        self.squeeze(at);
        self.images.place(&self.layout, at, &self.radius);
        if self.layout.flattens {
            self.ovals
                .place(&self.layout, &self.images, at, &mut self.cycles);
        }
    }

    /// Radius and work of every node that gives. While contacts are soft the end stop
    /// is too: beside them a hard one halves the steps in length and doubles the looks
    /// (tried).
    fn squeeze(&mut self, at: &[f64]) {
        let soft = (self.stiffness / FIRM).min(1.0);
        let squeezes = &at[self.layout.squeezes()];
        self.work.clear();
        for cycle in &mut self.cycles {
            cycle.held = 0.0;
        }
        for (node, &u) in squeezes.iter().enumerate() {
            let cycle = &mut self.cycles[self.cycle_of[node] as usize];
            let work = fibre::work(cycle.squeeze, cycle.pull * soft, u);
            cycle.held += work.held;
            self.radius[node] = self.tubes.radius[node] * (-u).exp();
            self.work.push(work);
        }
    }

    fn keep_pairs(&mut self, at: &[f64]) {
        let longest = self.longest_step();
        let (layout, pairs) = (&self.layout, &mut self.pairs);
        if pairs.hold(layout, &self.images, longest) || pairs.narrow(layout, &self.images, longest)
        {
            return;
        }
        let levels = levels_in_reach(layout, &self.images, longest);
        if levels != self.images.levels() {
            self.images.show(layout, levels);
            self.images.place(layout, at, &self.radius);
        }
        pairs.renew(layout, &self.images, &self.arc_spacing, longest);
        pairs.narrow(layout, &self.images, longest);
    }

    fn press_fence(&mut self) -> f64 {
        fence::press(
            &self.layout,
            &self.fenced,
            &mut self.images,
            &self.cycle_of,
            &mut self.pressed,
            self.stiffness,
        )
    }

    /// Steps that begin at a listed pair, if they are too near.
    fn breach(&self, node: usize, image: usize) -> Option<Breach> {
        let spacings = [node, self.images.own(image)].map(|node| self.spacing_at(node));
        Breach::of(
            &self.layout,
            &self.images,
            [node, image],
            spacings,
            self.stiffness,
        )
    }

    /// Squeezes: what the fibre gives less what the contacts ask.
    fn squeeze_slopes(&self, slope: &mut [f64]) {
        let place = self.layout.place(SQUEEZE);
        for (node, work) in self.work.iter().enumerate() {
            let spacing = self.pressed[self.cycle_of[node] as usize].spacing;
            let asked = self.images.slope[node][3] * self.radius[node];
            slope[place + node] = spacing * work.slope - asked;
        }
    }

    fn press_band(&mut self, slope: &mut [f64]) -> f64 {
        let squeeze = self.tubes.band;
        if squeeze == 0.0 {
            return 0.0;
        }
        let (band, k) = (self.band, self.stiffness);
        let (energy, by_band) =
            contact::press_band(&mut self.images, &self.cycle_of, &mut self.pressed, band, k);
        slope[self.layout.place(BAND)] += by_band + squeeze * self.images.lift;
        slope[self.layout.place(LIFT)] += squeeze * band;
        energy + squeeze * band * self.images.lift
    }

    pub(super) fn hold_fast(&self, slope: &mut [f64]) {
        let wholes = &mut slope[self.layout.place(0)..];
        for (slope, &free) in wholes.iter_mut().zip(&self.layout.free) {
            if !free {
                *slope = 0.0;
            }
        }
    }

    fn total_pull(&self) -> f64 {
        self.tubes.pull.iter().sum()
    }
}

impl Landscape for Energy<'_> {
    type Inverse = Stiffness;

    fn cost(&self) -> f64 {
        let shown = self.images.points.len();
        cost::of_a_look(shown, self.pairs.len(), self.layout.flattens)
    }

    fn height(&mut self, at: &[f64], slope: &mut [f64]) -> f64 {
        self.place(at);
        self.keep_pairs(at);
        self.images.clear_slope();
        self.measure_steps();
        slope[self.layout.place(0)..].fill(0.0);
        let mut bent = self.bend();
        let mut energy = bent.iter().sum::<f64>();
        energy += if self.layout.flattens {
            self.press_and_turn(&mut bent)
        } else {
            contact::press(
                &self.pairs,
                &mut self.images,
                &self.cycle_of,
                &mut self.pressed,
                &mut self.fenced,
                self.stiffness,
            )
        };
        energy += self.press_fence();
        energy += self.press_band(slope);
        energy += self.pull(&bent);
        energy -= self.tubes.weight * self.images.lift;
        slope[self.layout.place(LIFT)] -= self.tubes.weight;
        if self.layout.flattens {
            self.ovals
                .fold(&self.layout, &mut self.images, &self.cycles, slope);
        }
        self.images.fold(&self.layout, slope);
        self.squeeze_slopes(slope);
        self.hold_fast(slope);
        energy
    }

    fn unrest(&self, slope: &[f64]) -> f64 {
        let nodes = slope[..3 * self.layout.count()].chunks_exact(3);
        let mut worst = 0.0_f64;
        for (force, &cycle) in nodes.zip(&self.cycle_of) {
            let force = (force[0].powi(2) + force[1].powi(2) + force[2].powi(2)).sqrt();
            worst = worst.max(force / self.cycles[cycle as usize].spacing());
        }
        let wholes = &slope[self.layout.place(0)..];
        let scale = self.tubes.weight.abs() + 0.1 * self.total_pull();
        for whole in [LIFT, TURN, BAND] {
            worst = worst.max(wholes[whole].abs() / scale);
        }
        for (force, &cycle) in slope[self.layout.squeezes()].iter().zip(&self.cycle_of) {
            worst = worst.max(force.abs() / self.cycles[cycle as usize].spacing());
        }
        let axes = slope[self.layout.axes()].chunks_exact(3);
        for (force, &cycle) in axes.zip(&self.cycle_of) {
            let force = (force[0].powi(2) + force[1].powi(2) + force[2].powi(2)).sqrt();
            worst = worst.max(force / self.cycles[cycle as usize].spacing());
        }
        worst
    }

    fn reach(&self, step: &[f64]) -> f64 {
        passage::free_share(self, step)
    }

    fn inverse(&self) -> Option<Stiffness> {
        Stiffness::of(self)
    }

    fn is_flat(&self) -> bool {
        let [lift, across] = [self.images.lift, self.images.across];
        match self.layout.ends {
            Ends::Screw { .. } => self.layout.free[LIFT] && lift < COLLAPSED,
            Ends::Lattice { .. } => lift.min(across) < CROWDED,
            Ends::Closed { .. } => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::spiral::round_spiral;
    use super::super::{Shape, Squeeze};
    use super::*;

    /// Tubes with everything in them that the energy knows: two radii, two
    /// pulls, fat nodes, soft and hard strands, a band.
    fn motley() -> (Tubes, Shape) {
        let (tubes, shape) = round_spiral(5);
        let (mut tubes, mut shape) = tubes.repeated(&shape, 8);
        let lone = tubes.cycles()[1][0];
        assert!(tubes.cycles().len() > 1, "one cycle alone is too little");
        for strand in tubes.cycles()[0].clone() {
            tubes.pull[strand] = 1.3;
            tubes.bending[strand] = 0.2;
            tubes.squeeze[strand] = Squeeze::Fibre {
                stiffness: 2.0,
                limit: 0.05,
            };
            shape.squeeze[strand * 40..(strand + 1) * 40].fill(0.08);
        }
        tubes.squeeze[lone] = Squeeze::Fibre {
            stiffness: 0.7,
            limit: 0.3,
        };
        shape.squeeze[lone * 40..(lone + 1) * 40].fill(0.1);
        for (node, radius) in tubes.radius.iter_mut().enumerate() {
            *radius *= 1.0 + 0.4 * f64::from(node % 7 == 0);
        }
        tubes.band = 1.5;
        (tubes, shape)
    }

    fn squashed(energy: &Energy, shape: &Shape) -> Vec<f64> {
        let mut at = energy.unknowns(shape);
        let coordinates = 3 * energy.layout.count();
        for (place, x) in at.iter_mut().enumerate() {
            let jolt = 0.02 * ((place * 7919 % 100) as f64 / 100.0 - 0.5);
            *x = *x * if place < coordinates + 3 { 0.6 } else { 1.0 } + jolt;
        }
        at
    }

    #[test]
    fn the_slope_of_strands_that_keep_their_length_is_the_difference_of_heights() {
        let (tubes, shape) = motley();
        let tubes = Tubes {
            lengths: Some(vec![9.0; 8]),
            ..tubes
        };
        let mut energy = Energy::new(&tubes);
        let at = squashed(&energy, &shape);
        energy.stiffen(&at, 8.0);
        let mut slope = vec![0.0; at.len()];
        energy.height(&at, &mut slope);
        let line = energy.cycles[0].line();
        assert!(line.abs() > 2.0 * energy.cycles[0].pull, "{line}");
        assert_slope_is_difference(&mut energy, &at, &slope);
    }

    #[test]
    fn the_slope_is_the_difference_of_heights() {
        let (tubes, shape) = motley();
        let mut energy = Energy::new(&tubes);
        let at = squashed(&energy, &shape);
        energy.stiffen(&at, 8.0);
        let mut slope = vec![0.0; at.len()];
        energy.height(&at, &mut slope);
        assert_everything_acts(&energy, &slope);
        assert_slope_is_difference(&mut energy, &at, &slope);
    }

    /// A trefoil's third and a ring's half, so that images above are met both
    /// by running on and across.
    #[test]
    fn the_slope_of_closed_strands_is_the_difference_of_heights() {
        for cells in [3, 2] {
            let turn = 2.0 * std::f64::consts::TAU / cells as f64;
            let (tubes, _) = round_spiral(24);
            let tubes = Tubes {
                strands: 1,
                continues: vec![0],
                radius: vec![0.5; 24],
                pull: vec![1.0],
                bending: vec![0.05],
                squeeze: vec![Squeeze::Hard],
                ends: Ends::Closed { cells },
                ..tubes
            };
            let place = |node: usize| {
                let t = std::f64::consts::TAU / cells as f64 * node as f64 / 24.0;
                let out = 0.5 * (2.0 + (3.0 * t).cos());
                let (sin, cos) = (2.0 * t).sin_cos();
                [out * cos, out * sin, 0.5 * (3.0 * t).sin()]
            };
            let shape = Shape {
                points: (0..24).map(place).collect(),
                lift: 0.0,
                turn,
                squeeze: vec![0.0; 24],
                axes: Vec::new(),
            };
            let mut energy = Energy::new(&tubes);
            let mut at = energy.unknowns(&shape);
            for (place, x) in at[..72].iter_mut().enumerate() {
                *x += 0.02 * ((place * 7919 % 100) as f64 / 100.0 - 0.5);
            }
            energy.stiffen(&at, 8.0);
            let mut slope = vec![0.0; at.len()];
            energy.height(&at, &mut slope);
            assert!(energy.pressed[0].energy > 0.1, "nothing presses");
            assert_slope_is_difference(&mut energy, &at, &slope);
        }
    }

    fn assert_everything_acts(energy: &Energy, slope: &[f64]) {
        let wholes = &slope[energy.layout.place(0)..];
        for whole in [LIFT, TURN, BAND] {
            assert!(wholes[whole] != 0.0, "whole {whole} does not act");
        }
        assert!(energy.least_gap() < 0.9, "nothing presses hard");
        let soft = energy.cycles.iter().filter(|cycle| cycle.held > 0.0);
        assert_eq!(soft.count(), 2, "soft cycles");
        assert!(energy.work[0].curve > 100.0, "no end stop");
    }

    fn assert_slope_is_difference(energy: &mut Energy, at: &[f64], slope: &[f64]) {
        let mut ignored = slope.to_vec();
        let steepest = slope.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
        let coordinates = 3 * energy.layout.count();
        for place in (0..coordinates).step_by(7).chain(coordinates..at.len()) {
            let mut height = |by: f64| {
                let mut there = at.to_vec();
                there[place] += by;
                energy.height(&there, &mut ignored)
            };
            let difference = (height(1e-6) - height(-1e-6)) / 2e-6;
            let error = (difference - slope[place]).abs();
            let free = place < coordinates || energy.layout.free[place - coordinates];
            assert!(
                !free || error < 2e-7 * steepest,
                "unknown {place} of {}: {} but differences give {difference}",
                at.len(),
                slope[place]
            );
        }
    }
}
