//! Which strand is outermost at a place of the cord's surface.

use rayon::prelude::*;

use super::round::Round;
use super::span::{Hit, Part, Ray, dot, plus};
use super::strand::{Met, Spot, Strands};

/// What is seen at a place: on which span, and how far from the spine.
pub(super) type Seen = Met;

/// The strands, and the coordinate round them.
#[derive(Debug, Clone)]
pub(super) struct Field {
    pub(super) strands: Strands,
    pub(super) round: Round,
    /// Turn of a repeat as seen from the spine, from -½ to ½ of a round.
    pub(super) turn: f64,
    /// Every span that may be seen at heights from 0 to one lift.
    casts: Vec<Cast>,
}

/// A part of a span in one of the repeats, and what it may be seen on.
#[derive(Debug, Clone, Copy)]
struct Cast {
    spot: Spot,
    strand: usize,
    /// Number of the span on its strand.
    number: i64,
    /// Lowest and highest place of it.
    heights: [f64; 2],
    part: Part,
    /// Share of the round of its middle, and half of what it may be seen on.
    share: f64,
    half: f64,
}

impl Cast {
    /// How far out a ray leaves balls round its middle, of the part's size and of one that the
    /// part keeps within; 0 where it passes by.
    fn depths(&self, ray: &Ray) -> [f64; 2] {
        let off = plus(self.part.middle, ray.from, -1.0);
        let along = dot(off, ray.way);
        let aside = dot(off, off) - along * along;
        [self.part.ball, self.part.within].map(|radius| {
            let inside = radius * radius - aside;
            if inside >= 0.0 {
                along + inside.sqrt()
            } else {
                0.0
            }
        })
    }

    /// The places of a row, evenly round from `start`, that it may be seen on.
    fn places(&self, across: usize, start: f64) -> impl Iterator<Item = usize> {
        let count = across as f64;
        let first = ((self.share - self.half - start) * count).ceil() as i64;
        let last = ((self.share + self.half - start) * count).floor() as i64;
        let begin = first.rem_euclid(across as i64) as usize;
        let length = (last - first + 1).clamp(0, across as i64) as usize;
        let wrapped = (begin + length).saturating_sub(across);
        (begin..begin + length - wrapped).chain(0..wrapped)
    }

    /// Its middle as what is seen.
    fn middle(&self, depth: f64) -> Seen {
        Seen {
            spot: self.spot,
            hit: Hit {
                along: self.part.along,
                depth,
                within: 0.0,
            },
        }
    }
}

/// What is known of a place before strands are asked.
#[derive(Clone, Copy, Default)]
struct Guess<'a> {
    /// What is seen at least so far out.
    least: (f64, Option<&'a Cast>),
    /// What may be seen farthest out.
    most: (f64, Option<&'a Cast>),
    /// Another may lie farther out than what is.
    contested: bool,
}

/// Places round and up at which the mean depth is taken.
const PROBES: (usize, usize) = (64, 8);

impl Field {
    pub(super) fn new(strands: Strands) -> Self {
        let share = strands.turn / std::f64::consts::TAU;
        let turn = share - (share - 0.5).ceil();
        let (round, turn) = Round::new(&strands, turn);
        let mut field = Self {
            strands,
            round,
            turn,
            casts: Vec::new(),
        };
        field.casts = field.cast();
        let (across, up) = PROBES;
        let seen = field.raster(across, up, true);
        let depths: Vec<f64> = seen.iter().flatten().map(|seen| seen.hit.depth).collect();
        if !depths.is_empty() {
            let mean = depths.iter().sum::<f64>() / depths.len() as f64;
            field.round = field.round.at(mean);
            field.casts = field.cast();
        }
        field
    }

    /// Every span that may be seen at heights from 0 to one lift.
    fn cast(&self) -> Vec<Cast> {
        let mut casts = Vec::new();
        for (span, place) in self.strands.spans.iter().enumerate() {
            for part in place.parts(self.strands.diameter) {
                for level in self.strands.levels() {
                    let cast = self.cast_of(part, Spot { span, level });
                    if cast.heights[1] >= 0.0 && cast.heights[0] <= self.strands.lift {
                        casts.push(cast);
                    }
                }
            }
        }
        casts
    }

    fn cast_of(&self, part: Part, spot: Spot) -> Cast {
        let middle = self.strands.raised(part.middle, spot.level);
        let (share, depth) = self.round.place(middle);
        Cast {
            spot,
            strand: self.strands.strand(spot),
            number: self.strands.number(spot),
            heights: [middle[2] - part.within, middle[2] + part.within],
            part: Part { middle, ..part },
            share,
            half: self.round.half_share(depth, part.within),
        }
    }

    /// What is seen at every place of one repeat, row by row upwards. Row `j` of `up`
    /// stands at that share of the lift and begins at that share of the turn.
    fn raster(&self, across: usize, up: usize, exact: bool) -> Vec<Option<Seen>> {
        let row = |j: usize| {
            let part = j as f64 / up as f64;
            self.row(across, self.turn * part, self.strands.lift * part, exact)
        };
        let rows: Vec<Vec<Option<Seen>>> = (0..up).into_par_iter().map(row).collect();
        rows.concat()
    }

    /// The same, but how far out, and where on its strand, is a guess where no other strand
    /// may be seen.
    pub(super) fn sketch(&self, across: usize, up: usize) -> Vec<Option<Seen>> {
        self.raster(across, up, false)
    }

    /// What is seen at a height from 0 to one lift, evenly round from `start`.
    fn row(&self, across: usize, start: f64, height: f64, exact: bool) -> Vec<Option<Seen>> {
        let ray = self.round.rays(height);
        let rays: Vec<Ray> = (0..across)
            .map(|i| ray(start + i as f64 / across as f64))
            .collect();
        let casts: Vec<&Cast> = (self.casts.iter())
            .filter(|cast| cast.heights[0] <= height && cast.heights[1] >= height)
            .collect();
        let guesses = self.guesses(&casts, &rays, start, exact);
        let begin = |(ray, guess): (&Ray, &Guess)| {
            let first = guess.least.1.or(guess.most.1)?;
            if !guess.contested && guess.least.1.is_some() {
                return Some(first.middle(guess.least.0));
            }
            self.met(ray, first)
        };
        let mut seen: Vec<Option<Seen>> = rays.iter().zip(&guesses).map(begin).collect();
        for cast in casts {
            for i in cast.places(across, start) {
                if guesses[i].contested {
                    self.meet(&rays[i], cast, &mut seen[i]);
                }
            }
        }
        seen
    }

    /// What balls tell of a row.
    fn guesses<'a>(
        &self,
        casts: &[&'a Cast],
        rays: &[Ray],
        start: f64,
        exact: bool,
    ) -> Vec<Guess<'a>> {
        let mut guesses = vec![Guess::default(); rays.len()];
        for &cast in casts {
            for i in cast.places(rays.len(), start) {
                let [least, most] = cast.depths(&rays[i]);
                let guess = &mut guesses[i];
                if least > guess.least.0 {
                    guess.least = (least, Some(cast));
                }
                if most > guess.most.0 {
                    guess.most = (most, Some(cast));
                }
            }
        }
        for &cast in casts {
            for i in cast.places(rays.len(), start) {
                let guess = &mut guesses[i];
                guess.contested = guess.contested
                    || exact
                    || guess.least.1.is_none_or(|first| !self.is_near(cast, first))
                        && cast.depths(&rays[i])[1] > guess.least.0;
            }
        }
        guesses
    }

    fn met(&self, ray: &Ray, cast: &Cast) -> Option<Seen> {
        let met = (self.strands).follow(ray, cast.spot, cast.part.along);
        // What the spine lies beyond is seen on the other side.
        met.ok().filter(|met| met.hit.depth > 0.0)
    }

    /// Keeps what lies farther out.
    fn meet(&self, ray: &Ray, cast: &Cast, seen: &mut Option<Seen>) {
        let least = seen.map_or(0.0, |seen| seen.hit.depth);
        let is_under = cast.depths(ray)[1] <= least;
        if is_under || seen.is_some_and(|seen| self.is_beside(cast, seen.spot)) {
            return;
        }
        let met = self.met(ray, cast);
        if met.is_some_and(|met| met.hit.depth > least) {
            *seen = met;
        }
    }

    /// The same for two parts.
    fn is_near(&self, one: &Cast, two: &Cast) -> bool {
        (one.number - two.number).abs() <= self.strands.around && one.strand == two.strand
    }

    /// Whether a span bulges out together with another: the farthest of both is one place.
    fn is_beside(&self, cast: &Cast, spot: Spot) -> bool {
        (cast.number - self.strands.number(spot)).abs() <= self.strands.around
            && self.strands.strand(spot) == cast.strand
    }

    /// What is seen at one place, whatever its height.
    pub(super) fn seen(&self, share: f64, height: f64) -> Option<Seen> {
        let (lift, up) = (self.strands.lift, (height / self.strands.lift).floor());
        let up = up.clamp(-1e6, 1e6);
        let seen = self.row(1, share - self.turn * up, height - lift * up, true);
        seen[0].map(|seen| Seen {
            spot: Spot {
                level: seen.spot.level + up as i32,
                ..seen.spot
            },
            ..seen
        })
    }
}
