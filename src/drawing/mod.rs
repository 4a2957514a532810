//! Every picture, made once.
