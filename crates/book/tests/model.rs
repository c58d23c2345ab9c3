//! Undo, redo and going back against two stacks and a log, over drawn series of acts and across restarts.

use book::{Act, Book, Fault, Kind, Name, RevisionId};
use proptest::prelude::*;

#[derive(Clone, Debug)]
enum Move {
    Add(u8),
    AddOnOlder(usize),
    Undo,
    Redo,
    GoBack(usize),
    Reopen,
    BreakOff,
}

fn moves() -> impl Strategy<Value = Vec<(usize, Move)>> {
    let one = prop_oneof![
        4 => any::<u8>().prop_map(Move::Add),
        1 => any::<usize>().prop_map(Move::AddOnOlder),
        4 => Just(Move::Undo),
        3 => Just(Move::Redo),
        1 => any::<usize>().prop_map(Move::GoBack),
        1 => Just(Move::Reopen),
        1 => Just(Move::BreakOff),
    ];
    prop::collection::vec((0..2_usize, one), 1..40)
}

/// What a document should be: the usual two stacks, and every text it ever had.
#[derive(Default)]
struct Model {
    before: Vec<String>,
    now: String,
    after: Vec<String>,
    log: Vec<(RevisionId, String)>,
}

impl Model {
    fn write(&mut self, text: String) {
        self.before.push(std::mem::replace(&mut self.now, text));
        self.after.clear();
    }

    fn undo(&mut self) -> bool {
        let Some(text) = self.before.pop() else {
            return false;
        };
        self.after.push(std::mem::replace(&mut self.now, text));
        true
    }

    fn redo(&mut self) -> bool {
        let Some(text) = self.after.pop() else {
            return false;
        };
        self.before.push(std::mem::replace(&mut self.now, text));
        true
    }

    fn newest(&self) -> RevisionId {
        self.log.last().expect("it was begun").0
    }
}

fn name(document: usize) -> Name {
    Name::new(format!("garments/{document}.kdl")).expect("it is safe")
}

/// Makes a move in the book and in the model; both must agree whether it can be made.
fn make(
    book: &mut Book,
    document: usize,
    model: &mut Model,
    turn: &Move,
) -> Result<(), TestCaseError> {
    let name = name(document);
    let made = match turn {
        Move::Add(text) => {
            model.write(format!("text {text}"));
            book.add(&name, model.newest(), &model.now, "written", &[])
        }
        Move::AddOnOlder(which) => {
            let on = model.log[which % model.log.len()].0;
            if on == model.newest() {
                return Ok(());
            }
            let fault = book
                .add(&name, on, "lost", "", &[])
                .expect_err("it is not the newest");
            let newest = model.newest();
            prop_assert!(
                matches!(fault, Fault::Stale { newest: told, .. } if told == newest),
                "{}",
                fault
            );
            return Ok(());
        }
        Move::Undo => {
            let could = model.undo();
            let made = book.undo(&name);
            if !could {
                prop_assert!(
                    matches!(made, Err(Fault::NothingToUndo { .. })),
                    "nothing to undo"
                );
                return Ok(());
            }
            made
        }
        Move::Redo => {
            let could = model.redo();
            let made = book.redo(&name);
            if !could {
                prop_assert!(
                    matches!(made, Err(Fault::NothingToRedo { .. })),
                    "nothing to redo"
                );
                return Ok(());
            }
            made
        }
        Move::GoBack(which) => {
            let (to, text) = model.log[which % model.log.len()].clone();
            model.write(text);
            book.go_back(&name, to, "as it was")
        }
        Move::BreakOff => {
            let broken: Result<(), Fault> = book.change(|batch| {
                batch.add(&name, model.newest(), "never", "", &[])?;
                Err(Fault::NoRevision {
                    revision: RevisionId::new(0),
                })
            });
            prop_assert!(broken.is_err());
            return Ok(());
        }
        Move::Reopen => {
            *book = Book::open(book.path()).expect("it is a book");
            return Ok(());
        }
    };
    let id = made.map_err(|fault| TestCaseError::fail(fault.to_string()))?;
    model.log.push((id, model.now.clone()));
    Ok(())
}

fn agree(book: &Book, document: usize, model: &Model) -> Result<(), TestCaseError> {
    let history = book.history(&name(document)).expect("it was begun");
    let ids: Vec<RevisionId> = history.iter().map(|one| one.id).collect();
    let said: Vec<RevisionId> = model.log.iter().map(|(id, _)| *id).collect();
    prop_assert_eq!(ids, said, "every revision is there, in order");
    for (number, (revision, (id, text))) in (1..).zip(history.iter().zip(&model.log)) {
        prop_assert_eq!(&book.text(*id).expect("it is there"), text);
        prop_assert_eq!(revision.number, number);
        prop_assert_eq!(revision.act == Act::Edit, revision.again.is_none());
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn a_document_moves_through_time_as_two_stacks_do(moves in moves()) {
        let folder = tempfile::tempdir().expect("a folder");
        let mut book = Book::open_or_begin(&folder.path().join("book.notchbook")).expect("it is new");
        let mut models = [Model::default(), Model::default()];
        for (document, model) in models.iter_mut().enumerate() {
            model.now = format!("begun {document}");
            let begun = book.create(&name(document), Kind::Garment, &model.now, "begun", &[]);
            model.log.push((begun.expect("it is new"), model.now.clone()));
        }
        for (document, turn) in &moves {
            make(&mut book, *document, &mut models[*document], turn)?;
        }
        for (document, model) in models.iter().enumerate() {
            agree(&book, document, model)?;
        }
        prop_assert_eq!(book.verify().expect("it can be read"), Vec::<String>::new());
        let newest = models.iter().map(Model::newest).max();
        prop_assert_eq!(book.last().expect("it can be read"), newest);
    }
}
