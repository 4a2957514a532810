//! The cord off the weight, as far as it is known.

use std::sync::Arc;

use crate::cord::Form;

/// How the rested cord stands.
#[derive(Debug, Clone, Default)]
pub struct Rested {
    form: Option<Arc<Form>>,
    of: Option<u64>,
    failed: bool,
}

impl Rested {
    /// The shape to show, new or old.
    pub fn form(&self) -> Option<&Arc<Form>> {
        self.form.as_ref()
    }

    /// Why there is none, or why it is an earlier one; nothing when it is the cord's own.
    pub fn hindrance(&self, asked: bool) -> Option<&'static str> {
        match (self.failed, asked, &self.form) {
            (true, ..) => Some("off the weight this cord finds no rest, so none is shown"),
            (false, false, _) => Some("there is no cord to rest"),
            (false, true, None) => Some("the rested cord is being worked out"),
            (false, true, Some(_)) => None,
        }
    }

    /// Whether it is the answer to that question.
    pub(super) fn is_of(&self, print: u64) -> bool {
        self.of == Some(print)
    }

    /// The answer to a question; the last shape stays until there is one.
    pub(super) fn take(&mut self, print: u64, form: Option<Form>) {
        self.failed = form.is_none();
        self.form = form.map(Arc::new);
        self.of = Some(print);
    }
}
