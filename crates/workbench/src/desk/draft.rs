//! Drafts, each made once for the texts from which it follows.

use std::sync::Arc;

use book::{Document, Kind, Name, Revision, RevisionId};
use document::{Entry, Finding, Source};
use garment::recipe::parts::{FacingWishes, InterfacingWish, PocketWishes};
use making::draft::{Draft, Wearer, body_of, draft_for, open_again, open_source, read_body};
use pattern::Pattern;

use super::Desk;
use super::shelf::Pages;
use crate::http::answer::Answer;

/// A body that was read and completed, or why it cannot be.
pub(crate) type Worn = Result<Wearer, Vec<Finding>>;

/// The other documents on which a garment stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct Stands {
    /// The body, where one is named and there.
    pub(crate) body: Option<Revision>,
    /// The garments on which it stands, the nearest first.
    pub(crate) bases: Vec<Revision>,
    /// The cloths from which it is cut.
    pub(crate) cloths: Vec<Revision>,
}

impl Stands {
    /// All of them.
    pub(crate) fn links(&self) -> Vec<RevisionId> {
        self.all().map(|revision| revision.id).collect()
    }

    /// All of them, the garments first.
    pub(crate) fn all(&self) -> impl Iterator<Item = &Revision> {
        self.bases.iter().chain(&self.body).chain(&self.cloths)
    }
}

/// A garment with everything that was made of its newest text.
pub(crate) struct Drafted {
    /// The document as it was.
    pub(crate) document: Document,
    /// Its text.
    pub(crate) source: Arc<Source>,
    /// The texts of its bases, the nearest first.
    pub(crate) bases: Vec<Arc<Source>>,
    /// The texts of its cloths.
    cloths: Vec<Arc<Source>>,
    /// What it stands on.
    pub(crate) stands: Stands,
    /// The body for whom it is drafted.
    pub(crate) worn: Option<Arc<Worn>>,
    /// Its own statements, where they can be read.
    pub(crate) entry: Option<Entry>,
    /// The draft, or what stops it.
    pub(crate) draft: Result<Draft, Vec<Finding>>,
}

impl Drafted {
    /// What was found, whether or not it could be drafted.
    pub(crate) fn findings(&self) -> &[Finding] {
        match &self.draft {
            Ok(draft) => &draft.findings,
            Err(findings) => findings,
        }
    }

    /// Drafts another text of the same garment on the same bases and body; what only the book could tell is a finding.
    pub(crate) fn again(&self, source: &Arc<Source>) -> Result<Draft, Vec<Finding>> {
        let Some(worn) = &self.worn else {
            return Err(self.findings().to_vec());
        };
        let wearer = worn.as_ref().as_ref().map_err(Clone::clone)?;
        let opened = open_source(&mut self.known(), source)?;
        draft_for(&opened, wearer, true)
    }
}

impl Drafted {
    fn known(&self) -> Known<'_> {
        Known([&self.bases, &self.cloths])
    }

    /// The pattern of another text, as [`Drafted::again`] drafts it, without looking at what is found about it; without the
    /// layers behind the outside where only that is looked at.
    pub(crate) fn unchecked(
        &self,
        source: &Arc<Source>,
        outside_only: bool,
    ) -> Result<Pattern, Vec<Finding>> {
        let Some(worn) = &self.worn else {
            return Err(self.findings().to_vec());
        };
        let wearer = worn.as_ref().as_ref().map_err(Clone::clone)?;
        let opened = open_again(&mut self.known(), source)?;
        let mut recipe = opened.recipe(&wearer.body)?;
        if outside_only {
            recipe.parts.facings = FacingWishes::default();
            recipe.parts.lining = None;
            recipe.parts.hems.lining = None;
            recipe.parts.interfacing = InterfacingWish::default();
            recipe.parts.pockets = PocketWishes::default();
        }
        let made = garment::make(&recipe, &wearer.body);
        // Something that is asked for may need a layer that was left away.
        let made = match made {
            Err(_) if outside_only => garment::make(&opened.recipe(&wearer.body)?, &wearer.body),
            made => made,
        };
        let made = made.map_err(|finding| vec![finding])?;
        Ok(made.pattern)
    }
}

/// Texts that were read before.
struct Known<'a>([&'a [Arc<Source>]; 2]);

impl making::Shelf for Known<'_> {
    fn text(&mut self, name: &str, _what: &str) -> Result<Arc<Source>, Finding> {
        let known = self
            .0
            .into_iter()
            .flatten()
            .find(|source| source.name == name);
        known.cloned().ok_or_else(|| {
            Finding::error(
                "document-missing",
                format!("There is no document {name} to stand on."),
            )
            .cure("Name a garment of this book.")
        })
    }

    fn beside(&self, from: &str, name: &str) -> String {
        let beside = Name::new(from).ok().and_then(|from| from.beside(name));
        beside.map_or_else(|| name.to_owned(), |name| name.as_str().to_owned())
    }
}

impl Desk {
    /// The draft of a garment's newest text.
    pub(crate) fn drafted(&mut self, document: &Document) -> Answer<Arc<Drafted>> {
        let known = self.remembered(&document.name).drafted.clone();
        if let Some(drafted) = known
            && self.is_newest(document, &drafted)?
        {
            return Ok(drafted);
        }
        let source = self.source(document)?;
        let drafted = Arc::new(self.draft(document, &source)?);
        let remembered = self.remembered(&document.name);
        remembered.drafted = Some(Arc::clone(&drafted));
        Ok(drafted)
    }

    fn is_newest(&self, document: &Document, drafted: &Drafted) -> Answer<bool> {
        if drafted.document.newest != document.newest {
            return Ok(false);
        }
        if drafted.worn.is_none() {
            // What was missing may be there by now.
            return Ok(false);
        }
        for used in drafted.stands.all() {
            if self.book.document(&used.document)?.newest != used.id {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// Drafts a text as if it were the newest of a document.
    pub(crate) fn draft(&mut self, document: &Document, source: &Arc<Source>) -> Answer<Drafted> {
        let (opened, named, used, texts) = {
            let mut shelf = Pages::newest(&self.book);
            let opened = open_source(&mut shelf, source);
            let named = opened
                .as_ref()
                .ok()
                .map(|opened| body_of(&shelf, opened, document.name.as_str()));
            let used = shelf.used;
            let text = |one: &Revision| self.book.text(one.id);
            let texts = used
                .iter()
                .map(|one| Ok(Source::new(one.document.as_str(), text(one)?)))
                .collect::<Result<Vec<_>, book::Fault>>()?;
            (opened, named, used, texts)
        };
        let is_cloth = |revision: &Revision| revision.kind == Kind::Cloth;
        let (cloths, bases): (Vec<_>, Vec<_>) = used
            .into_iter()
            .zip(texts)
            .partition(|(one, _)| is_cloth(one));
        let (cloths, cloth_texts) = cloths.into_iter().unzip();
        let (bases, texts) = bases.into_iter().unzip();
        let mut drafted = Drafted {
            cloths: cloth_texts,
            document: document.clone(),
            source: Arc::clone(source),
            bases: texts,
            stands: Stands {
                body: None,
                bases,
                cloths,
            },
            worn: None,
            entry: first_entry(source),
            draft: Err(Vec::new()),
        };
        let (opened, named) = match (opened, named) {
            (Ok(opened), Some(Ok((name, _)))) => (opened, name),
            (Ok(_), Some(Err(findings))) | (Err(findings), _) => {
                drafted.draft = Err(findings);
                return Ok(drafted);
            }
            (Ok(_), None) => return Ok(drafted),
        };
        match self.worn(&named) {
            Ok((revision, worn)) => {
                drafted.draft = match worn.as_ref() {
                    Ok(wearer) => draft_for(&opened, wearer, true),
                    Err(findings) => Err(findings.clone()),
                };
                drafted.stands.body = Some(revision);
                drafted.worn = Some(worn);
            }
            Err(finding) => drafted.draft = Err(vec![finding]),
        }
        Ok(drafted)
    }

    /// A body of the book, read and completed once for each of its revisions.
    fn worn(&mut self, name: &str) -> Result<(Revision, Arc<Worn>), Finding> {
        let mut shelf = Pages::newest(&self.book);
        let read = read_body(&mut shelf, name);
        let Some(revision) = shelf.used.pop() else {
            // It is not there; the finding says so.
            let finding = read.err().and_then(|findings| findings.into_iter().next());
            return Err(finding.unwrap_or_else(|| {
                Finding::error("document-missing", format!("There is no body {name}."))
            }));
        };
        if let Some((known, worn)) = self.wearers.get(&revision.document)
            && *known == revision.id
        {
            return Ok((revision, Arc::clone(worn)));
        }
        let worn = Arc::new(read.map(Wearer::of));
        let kept = (revision.id, Arc::clone(&worn));
        self.wearers.insert(revision.document.clone(), kept);
        Ok((revision, worn))
    }
}

/// The first statement of a text, where it can be read.
pub(crate) fn first_entry(source: &Arc<Source>) -> Option<Entry> {
    document::parse(source).ok()?.into_iter().next()
}
