//! What the easel is asked for: who sits, how large, how it looks.

use std::ops::Deref;
use std::sync::Arc;

use crate::cord::{Cord, Form};
use crate::drawing::Thread;

use super::painting::Scene;

/// Whether the cord is the one asked for, or the last good one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Age {
    /// The cord of the design.
    Now,
    /// An earlier cord, shown with little colour.
    Old,
}

/// A large picture of the strip, each with a place of its own on the easel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lane {
    /// The cord on the disc, straight.
    OnDisc,
    /// The cord off the weight, straight.
    Rested,
    /// The cord as it is worn.
    Worn,
}

/// Who is pictured.
#[derive(Debug, Clone)]
pub enum Sitter {
    /// A cord on the disc.
    Cord(Arc<Cord>),
    /// A cord in another state.
    Form(Arc<Form>),
}

impl Lane {
    /// All of them; each stands at its own number.
    pub const ALL: [Self; 3] = [Self::OnDisc, Self::Rested, Self::Worn];
}

impl Deref for Sitter {
    type Target = Form;

    fn deref(&self) -> &Form {
        match self {
            Self::Cord(cord) => &cord.form,
            Self::Form(form) => form,
        }
    }
}

impl Sitter {
    /// Whether it is the very same, not one like it.
    pub fn is(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Cord(one), Self::Cord(other)) => Arc::ptr_eq(one, other),
            (Self::Form(one), Self::Form(other)) => Arc::ptr_eq(one, other),
            _ => false,
        }
    }
}

/// One picture to be painted.
#[derive(Debug, Clone)]
pub struct Order {
    /// The cord.
    pub sitter: Sitter,
    /// What its strands look like.
    pub threads: Arc<[Thread]>,
    /// What of it is seen, and how large.
    pub scene: Scene,
    /// How it is shown.
    pub age: Age,
    /// Whether it is to be known where its strands lie on top.
    pub traced: bool,
}

impl PartialEq for Order {
    fn eq(&self, other: &Self) -> bool {
        self.sitter.is(&other.sitter)
            && self.threads == other.threads
            && self.scene == other.scene
            && self.age == other.age
            && self.traced == other.traced
    }
}

impl Order {
    /// Whether the two pictures would be the same, pixel for pixel.
    pub(super) fn is_shaped_like(&self, other: &Self) -> bool {
        *self.sitter == *other.sitter
            && self.threads == other.threads
            && self.scene == other.scene
            && self.age == other.age
            && self.traced == other.traced
    }
}
