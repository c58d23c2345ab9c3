//! Garments as they were.

use book::Revision;
use document::{Finding, Source};
use making::draft::{Draft, Wanted, draft_text};

use super::Desk;
use super::shelf::Pages;
use crate::http::answer::Answer;

impl Desk {
    /// The draft of any revision of a garment, on the revisions of body and bases on which it was drafted then.
    pub(crate) fn past(&self, revision: &Revision) -> Answer<Result<Draft, Vec<Finding>>> {
        let text = self.book.text(revision.id)?;
        let source = Source::new(revision.document.as_str(), text);
        let mut shelf = Pages::as_of(&self.book, revision);
        let wanted = Wanted {
            garment: revision.document.as_str(),
            body: None,
            even_so: true,
        };
        Ok(draft_text(&mut shelf, &wanted, &source))
    }
}
