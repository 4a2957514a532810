//! A wall of small pictures: one cord, seen alike, in many colours.
//!
//! Each frame says anew which pictures are wanted, the nearest first; what is no longer
//! wanted is not painted. Pictures that nobody has looked at for longest are let go when
//! there are too many, and only so many are hung in one frame, so that none is missed.

use std::collections::{BTreeMap, VecDeque};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};

use eframe::egui::{ColorImage, Context, TextureHandle};

use super::{Board, Scene, hang};
use crate::app::post::Post;
use crate::cord::Cord;
use crate::drawing::{Detail, Stage, Thread};
use crate::material::Colour;

/// Most pixels that hang, in sight or out of it: 64 MB of them.
const MOST_PIXELS: usize = 16_000_000;
/// Most pictures hung in a frame. Tried: some milliseconds with large ones.
const HUNG_AT_ONCE: usize = 24;

/// Which strand has which colour, as places in the palette of a wall.
type Key = Vec<u8>;

/// What all pictures of a wall have in common.
#[derive(Debug, Clone)]
pub(in crate::app) struct Subject {
    /// The cord.
    pub cord: Arc<Cord>,
    /// How it is seen.
    pub scene: Scene,
    /// What its strands are made of, in any colours.
    pub threads: Arc<[Thread]>,
    /// What a picture's key speaks of.
    pub palette: Vec<Vec<Colour>>,
}

impl Subject {
    fn is_painted_like(&self, other: &Self) -> bool {
        (Arc::ptr_eq(&self.cord, &other.cord) || self.cord.form == other.cord.form)
            && self.scene == other.scene
            && is_made_like(&self.threads, &other.threads)
            && self.palette == other.palette
    }
}

/// Whether only the colours differ.
fn is_made_like(some: &[Thread], others: &[Thread]) -> bool {
    let uncoloured = |threads: &[Thread]| {
        let mut threads = threads.to_vec();
        let ends = threads.iter_mut().flat_map(|thread| &mut thread.ends);
        ends.for_each(|end| end.colour = Colour::BLACK);
        threads
    };
    some.len() == others.len() && (some == others || uncoloured(some) == uncoloured(others))
}

/// A picture that is asked for.
#[derive(Debug)]
struct Wish {
    key: Key,
    threads: Vec<Thread>,
}

/// What the thread finds on the board.
#[derive(Debug, Default)]
pub(super) struct Wishes {
    /// Counts the subjects.
    number: u64,
    subject: Option<Subject>,
    waiting: VecDeque<Wish>,
    in_hand: Option<Key>,
}

/// One picture to be painted.
pub(super) struct Job {
    number: u64,
    subject: Subject,
    wish: Wish,
}

impl Wishes {
    /// The next, which is in hand from now on.
    pub(super) fn next(&mut self) -> Option<Job> {
        let subject = self.subject.clone()?;
        let wish = self.waiting.pop_front()?;
        self.in_hand = Some(wish.key.clone());
        let number = self.number;
        Some(Job {
            number,
            subject,
            wish,
        })
    }
}

/// A picture that was painted.
struct Painted {
    number: u64,
    key: Key,
    image: ColorImage,
}

/// A picture that hangs.
struct Hung {
    texture: TextureHandle,
    /// Of which subject it is: an earlier one hangs until the new one is painted.
    number: u64,
    /// When it was looked at last, by frames.
    seen: u64,
}

/// The pictures, on the window's side.
pub(super) struct Wall {
    subject: Option<Subject>,
    number: u64,
    frame: u64,
    hung: BTreeMap<Key, Hung>,
    /// Painted, to be hung in one of the next frames.
    dry: VecDeque<Painted>,
    painted: Receiver<Painted>,
    pixels: usize,
}

/// The pictures, on the thread's side.
pub(super) struct WallHand {
    send: Sender<Painted>,
    stage: Option<(u64, Stage)>,
}

/// Both sides of a wall.
pub(super) fn wall() -> (Wall, WallHand) {
    let (send, painted) = channel();
    let wall = Wall {
        subject: None,
        number: 0,
        frame: 0,
        hung: BTreeMap::new(),
        dry: VecDeque::new(),
        painted,
        pixels: 0,
    };
    (wall, WallHand { send, stage: None })
}

impl WallHand {
    /// Paints one picture and hands it over.
    pub(super) fn paint(&mut self, job: Job, post: &Post<Board>, ctx: &Context) {
        let (cord, Scene { view, ground }) = (&job.subject.cord, &job.subject.scene);
        let kept = self
            .stage
            .take()
            .filter(|(number, _)| *number == job.number);
        let (_, mut stage) = kept.unwrap_or_else(|| (job.number, Stage::new(&cord.form)));
        let raster = stage.picture(&job.wish.threads, view, ground, Detail::Fine);
        let size = [raster.width, raster.height];
        let image = ColorImage::from_rgba_unmultiplied(size, &raster.rgba);
        self.stage = Some((job.number, stage));
        let mut board = post.board();
        board.wishes.in_hand = None;
        let painted = Painted {
            number: job.number,
            key: job.wish.key,
            image,
        };
        if self.send.send(painted).is_ok() {
            ctx.request_repaint();
        }
    }
}

impl Wall {
    /// Hangs some of what was painted.
    pub(super) fn collect(&mut self, ctx: &Context) {
        self.frame += 1;
        self.dry.extend(self.painted.try_iter());
        for _ in 0..HUNG_AT_ONCE {
            let Some(painted) = self.dry.pop_front() else {
                break;
            };
            if painted.number == self.number {
                self.hang(ctx, painted);
            }
        }
        if !self.dry.is_empty() {
            ctx.request_repaint();
        }
        if self.pixels > MOST_PIXELS {
            self.let_go();
        }
    }

    fn hang(&mut self, ctx: &Context, painted: Painted) {
        self.pixels += painted.image.pixels.len();
        let hung = Hung {
            texture: hang(ctx, "look", painted.image),
            number: painted.number,
            seen: self.frame,
        };
        if let Some(before) = self.hung.insert(painted.key, hung) {
            self.pixels -= pixels(&before.texture);
        }
    }

    /// Lets go of what was not looked at for longest, until a quarter is free.
    fn let_go(&mut self) {
        let mut oldest: Vec<(u64, Key)> =
            self.hung.iter().map(|(k, h)| (h.seen, k.clone())).collect();
        oldest.sort();
        for (_, key) in oldest {
            if self.pixels <= MOST_PIXELS / 4 * 3 {
                return;
            }
            if let Some(gone) = self.hung.remove(&key) {
                self.pixels -= pixels(&gone.texture);
            }
        }
    }

    /// Turns to a subject; pictures of another palette come down.
    pub(super) fn turn_to(&mut self, subject: Subject) {
        if self
            .subject
            .as_ref()
            .is_some_and(|it| it.is_painted_like(&subject))
        {
            return;
        }
        if self
            .subject
            .as_ref()
            .is_none_or(|it| it.palette != subject.palette)
        {
            self.hung.clear();
            self.pixels = 0;
        }
        self.number += 1;
        self.dry.clear();
        self.subject = Some(subject);
    }

    /// The picture under `key`, perhaps of the last subject, and whether it is to be
    /// painted.
    fn seen(&mut self, key: &[u8]) -> (Option<TextureHandle>, bool) {
        let (frame, number) = (self.frame, self.number);
        let Some(hung) = self.hung.get_mut(key) else {
            return (None, true);
        };
        hung.seen = frame;
        (Some(hung.texture.clone()), hung.number != number)
    }
}

fn pixels(texture: &TextureHandle) -> usize {
    let [width, height] = texture.size();
    width * height
}

/// A wall that is looked at in this frame.
pub(in crate::app) struct Looking<'a> {
    wall: &'a mut Wall,
    post: &'a Post<Board>,
    wishes: VecDeque<Wish>,
}

impl<'a> Looking<'a> {
    pub(super) fn at(wall: &'a mut Wall, post: &'a Post<Board>) -> Self {
        let wishes = VecDeque::new();
        Self { wall, post, wishes }
    }

    /// The picture under `key`, if it is painted; it is asked for if it is not, after
    /// those asked for before. `threads` in its colours.
    pub(in crate::app) fn picture(
        &mut self,
        key: &[u8],
        threads: impl FnOnce() -> Vec<Thread>,
    ) -> Option<TextureHandle> {
        let (texture, is_wanted) = self.wall.seen(key);
        if is_wanted {
            let (key, threads) = (key.to_vec(), threads());
            self.wishes.push_back(Wish { key, threads });
        }
        texture
    }
}

impl Drop for Looking<'_> {
    /// What was asked for takes the place of what was asked for before.
    fn drop(&mut self) {
        let mut board = self.post.board();
        let wall = &mut *self.wall;
        // Nothing can be painted while the board is held: what is dry is not painted
        // again.
        wall.dry.extend(wall.painted.try_iter());
        let is_dry = |key: &Key| {
            wall.dry
                .iter()
                .any(|it| it.key == *key && it.number == wall.number)
        };
        let wishes = &mut board.wishes;
        let is_new = wishes.number != wall.number;
        if is_new {
            wishes.number = wall.number;
            wishes.subject.clone_from(&wall.subject);
        }
        let in_hand = wishes.in_hand.clone().filter(|_| !is_new);
        let is_wanted = |wish: &Wish| !is_dry(&wish.key) && in_hand.as_ref() != Some(&wish.key);
        let wanted = std::mem::take(&mut self.wishes).into_iter();
        wishes.waiting = wanted.filter(is_wanted).collect();
        let is_work = !wishes.waiting.is_empty();
        drop(board);
        if is_work {
            self.post.ring();
        }
    }
}
