package job

// Answer is what somebody says to a yes-or-no question: the householder, the supplier, an
// authority, whoever signs.
type Answer string

// The answers. "" is a field nobody wrote, and counts as Unknown.
const (
	Yes         Answer = "yes"
	No          Answer = "no"
	Unknown     Answer = "unknown"
	Asked       Answer = "asked"        // and has not answered
	WithConsent Answer = "with-consent" // yes, with their consent each time
	Wanted      Answer = "wanted"       // not there, and to be there
	Given       Answer = "given"
	Refused     Answer = "refused"
	NotNeeded   Answer = "not-needed"
	Signed      Answer = "signed"
	Named       Answer = "named"
	Informed    Answer = "told"
)

// Open reports whether nobody knows the answer.
func (a Answer) Open() bool { return a == "" || a == Unknown }

// Allows reports whether somebody who was asked may be taken to allow it.
func (a Answer) Allows() bool { return a == Yes || a == WithConsent }
