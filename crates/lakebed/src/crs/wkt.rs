//! A reader of well-known text, just enough to see names, datum and code before anyone projects.

use super::CrsError;

/// One `KEYWORD["text", number, CHILD[...]]`.
#[derive(Debug)]
pub(super) struct Node {
    keyword: String,
    texts: Vec<String>,
    children: Vec<Self>,
}

struct Reader<'a> {
    text: &'a [u8],
    at: usize,
}

fn unreadable(reason: impl Into<String>) -> CrsError {
    CrsError::UnreadableText { reason: reason.into() }
}

impl Reader<'_> {
    fn skip_space(&mut self) {
        while self.text.get(self.at).is_some_and(u8::is_ascii_whitespace) {
            self.at += 1;
        }
    }

    fn peek(&self) -> Option<u8> {
        self.text.get(self.at).copied()
    }

    fn word(&mut self) -> String {
        let start = self.at;
        while self.peek().is_some_and(|byte| !b"[](),\"".contains(&byte)) {
            self.at += 1;
        }
        String::from_utf8_lossy(&self.text[start..self.at]).trim().to_owned()
    }

    fn quoted(&mut self) -> Result<String, CrsError> {
        self.at += 1;
        let start = self.at;
        while self.peek().is_some_and(|byte| byte != b'"') {
            self.at += 1;
        }
        if self.peek().is_none() {
            return Err(unreadable("a quotation mark is not closed"));
        }
        self.at += 1;
        Ok(String::from_utf8_lossy(&self.text[start..self.at - 1]).into_owned())
    }

    fn node(&mut self, depth: usize) -> Result<Node, CrsError> {
        if depth > 32 {
            return Err(unreadable("its brackets are nested too deeply"));
        }
        self.skip_space();
        let keyword = self.word();
        if !matches!(self.peek(), Some(b'[' | b'(')) {
            return Err(unreadable(format!("a bracket is missing after `{keyword}`")));
        }
        self.body(keyword, depth)
    }

    fn body(&mut self, keyword: String, depth: usize) -> Result<Node, CrsError> {
        let mut node =
            Node { keyword: keyword.to_ascii_uppercase(), texts: vec![], children: vec![] };
        self.at += 1;
        loop {
            self.skip_space();
            match self.peek() {
                None => return Err(unreadable(format!("`{keyword}` is not closed"))),
                Some(b']' | b')') => {
                    self.at += 1;
                    return Ok(node);
                }
                Some(b',') => self.at += 1,
                Some(b'"') => node.texts.push(self.quoted()?),
                Some(_) => {
                    let word = self.word();
                    if matches!(self.peek(), Some(b'[' | b'(')) {
                        if depth > 32 {
                            return Err(unreadable("its brackets are nested too deeply"));
                        }
                        node.children.push(self.body(word, depth + 1)?);
                    } else {
                        node.texts.push(word);
                    }
                }
            }
        }
    }
}

impl Node {
    /// Reads the whole text of a coordinate reference system.
    pub(super) fn parse(text: &str) -> Result<Self, CrsError> {
        let text = text.trim_start_matches('\u{feff}').trim();
        if text.is_empty() {
            return Err(unreadable("it is empty"));
        }
        let node = Reader { text: text.as_bytes(), at: 0 }.node(0)?;
        if node.is_geographic() || node.is_projected() {
            return Ok(node);
        }
        if matches!(node.keyword.as_str(), "COMPD_CS" | "COMPOUNDCRS") {
            // a compound system is its horizontal part here: depths have their own reference
            return node
                .children
                .into_iter()
                .find(|child| child.is_geographic() || child.is_projected())
                .ok_or_else(|| unreadable("it has no horizontal part"));
        }
        Err(unreadable(format!("it begins with `{}`, not with PROJCS or GEOGCS", node.keyword)))
    }

    pub(super) fn is_geographic(&self) -> bool {
        matches!(self.keyword.as_str(), "GEOGCS" | "GEOGCRS" | "GEODCRS" | "BASEGEOGCRS")
    }

    fn is_projected(&self) -> bool {
        matches!(self.keyword.as_str(), "PROJCS" | "PROJCRS")
    }

    pub(super) fn name(&self) -> Option<&str> {
        self.texts.first().map(String::as_str)
    }

    fn find(&self, keywords: &[&str]) -> Option<&Self> {
        if keywords.contains(&self.keyword.as_str()) {
            return Some(self);
        }
        self.children.iter().find_map(|child| child.find(keywords))
    }

    /// The datum's name; of an ensemble, the ensemble's.
    pub(super) fn datum(&self) -> Option<&str> {
        self.find(&["DATUM", "ENSEMBLE", "GEODETICDATUM", "TRF"]).and_then(Self::name)
    }

    /// The EPSG code of the system itself, not of one of its parts.
    pub(super) fn epsg_code(&self) -> Option<u32> {
        let own = self.children.iter().rfind(|child| {
            matches!(child.keyword.as_str(), "AUTHORITY" | "ID")
                && child.name().is_some_and(|name| name.eq_ignore_ascii_case("EPSG"))
        })?;
        own.texts.get(1)?.parse().ok()
    }
}

fn plain(name: &str) -> String {
    let name = name.strip_prefix("D_").unwrap_or(name);
    name.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_ascii_lowercase()
}

/// Whether the datum is a realisation of NAD83.
pub(super) fn is_nad83(datum: &str) -> bool {
    let name = plain(datum);
    name.starts_with("nad83")
        || name.starts_with("northamericandatum1983")
        || name.starts_with("northamerican1983")
}

/// Whether a datum lies within two metres or so of WGS 84.
pub(super) fn is_near_wgs84(datum: &str) -> bool {
    let name = plain(datum);
    is_nad83(datum)
        || name.starts_with("wgs1984")
        || name.starts_with("wgs84")
        || name.starts_with("worldgeodeticsystem1984")
        || [
            "europeanterrestrialreferencesystem1989",
            "etrs1989",
            "etrs89",
            "geocentricdatumofaustralia",
            "gda1994",
            "gda2020",
            "newzealandgeodeticdatum2000",
            "nzgd2000",
            "japanesegeodeticdatum2",
            "jgd2",
            "sistemadereferenciageocentrico",
            "sirgas",
            "csrs",
        ]
        .iter()
        .any(|near| name.starts_with(near))
}

/// Whether the system is the web map's: its text is read wrongly by anyone who takes it literally.
pub(super) fn is_web_mercator(node: &Node) -> bool {
    let name = plain(node.name().unwrap_or_default());
    let projection = node.find(&["PROJECTION", "METHOD"]).and_then(Node::name).unwrap_or_default();
    name.contains("webmercator")
        || name.contains("pseudomercator")
        || plain(projection).contains("auxiliarysphere")
        || node.epsg_code().is_some_and(|code| matches!(code, 3857 | 3785 | 900_913))
}
