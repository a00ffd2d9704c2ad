//! XML as a small tree, enough for GPX and KML.

use crate::fault::{Fault, Faults};
use crate::text::decode;
use quick_xml::events::{BytesStart, Event};
use quick_xml::{Reader, XmlVersion};

/// Deeper nesting is refused: no map is that deep, and a tree must be dropped again.
const DEEPEST: usize = 100;

/// An element.
#[derive(Debug, Default)]
pub(crate) struct Node {
    /// Name without its prefix.
    pub(crate) name: String,
    /// Attributes without their prefixes.
    attributes: Vec<(String, String)>,
    /// Text directly inside, character references resolved.
    text: String,
    /// Elements directly inside.
    pub(crate) children: Vec<Self>,
}

impl Node {
    pub(crate) fn attribute(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|(key, _)| key == name).map(|(_, value)| value.as_str())
    }

    /// The text, trimmed.
    pub(crate) fn text(&self) -> &str {
        self.text.trim()
    }

    /// The first element of that name directly inside.
    pub(crate) fn child(&self, name: &str) -> Option<&Self> {
        self.children.iter().find(|child| child.name == name)
    }

    /// All elements of that name directly inside.
    pub(crate) fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Self> {
        self.children.iter().filter(move |child| child.name == name)
    }

    /// Every element inside at any depth, in the order of the file.
    pub(crate) fn descendants(&self) -> Vec<&Self> {
        let mut found = Vec::new();
        let mut open: Vec<&Self> = self.children.iter().rev().collect();
        while let Some(node) = open.pop() {
            found.push(node);
            open.extend(node.children.iter().rev());
        }
        found
    }
}

/// The root element.
pub(crate) fn parse(file: &str, bytes: &[u8]) -> Result<Node, Faults> {
    let text = decode(bytes).text;
    let line = |at: u64| text.bytes().take(at as usize).filter(|&b| b == b'\n').count() + 1;
    let broken = |at: u64, found: String| {
        Faults::one(Fault::file(file, "well-formed XML").at(line(at)).found(found).hint(
            "the row is the line of the file; it may not have finished downloading or saving",
        ))
    };
    let mut reader = Reader::from_str(&text);
    // the bottom of the stack holds the root
    let mut open = vec![Node::default()];
    loop {
        let at = reader.buffer_position();
        let event = match reader.read_event() {
            Ok(event) => event,
            Err(error) => return Err(broken(reader.error_position(), error.to_string())),
        };
        match event {
            Event::Start(start) => {
                if open.len() > DEEPEST {
                    return Err(broken(at, format!("more than {DEEPEST} elements in each other")));
                }
                open.push(element(&start));
            }
            Event::Empty(start) => add(&mut open, element(&start)),
            Event::End(_) => {
                if open.len() > 1
                    && let Some(done) = open.pop()
                {
                    add(&mut open, done);
                }
            }
            Event::Text(part) => push_text(&mut open, &part.xml10_content()),
            Event::CData(part) => push_text(&mut open, &part.xml10_content()),
            Event::GeneralRef(reference) => {
                let resolved = match reference.resolve_char_ref() {
                    Ok(Some(c)) => Some(c.to_string()),
                    Ok(None) => {
                        quick_xml::escape::resolve_predefined_entity(&reference.xml10_content())
                            .map(str::to_owned)
                    }
                    Err(_) => None,
                };
                push_text(&mut open, resolved.as_deref().unwrap_or("\u{FFFD}"));
            }
            Event::Eof => break,
            Event::Comment(_) | Event::Decl(_) | Event::PI(_) | Event::DocType(_) => {}
        }
    }
    if open.len() > 1 {
        return Err(broken(text.len() as u64, "the end of the file".to_owned()));
    }
    let root = open.pop().and_then(|mut bottom| bottom.children.pop());
    root.ok_or_else(|| broken(0, "no element".to_owned()))
}

fn element(start: &BytesStart<'_>) -> Node {
    let local = |name: &str| name.rsplit(':').next().unwrap_or_default().to_owned();
    Node {
        name: local(start.name().as_ref()),
        attributes: start
            .attributes()
            .flatten()
            .filter_map(|attribute| {
                let value = attribute.normalized_value(XmlVersion::Implicit1_0).ok()?.into_owned();
                Some((local(attribute.key.as_ref()), value))
            })
            .collect(),
        ..Node::default()
    }
}

fn add(open: &mut [Node], node: Node) {
    if let Some(parent) = open.last_mut() {
        parent.children.push(node);
    }
}

fn push_text(open: &mut [Node], text: &str) {
    if let Some(parent) = open.last_mut() {
        parent.text.push_str(text);
    }
}
