//! Placeholder of the room; see ARCHITECTURE.md.
