//! What is cut off gives its place back.
