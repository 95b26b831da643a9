package catalogue

// retired are keys of sources that stood for a whole document. A key is now one clause, so
// that no figure can be laid to the wrong one; a user's file that still names the document
// is read as its nearest clause.
var retired = map[string]string{
	"as-nzs-3500":    "asnzs-3500-1",
	"bs-8004":        "table-bearing",
	"bs-8558":        "bs-8558-disinfect",
	"cda-handbook":   "cda-rating",
	"en-1717":        "en-1717-gap",
	"en-806-2":       "en-806-2-static",
	"en-806-3":       "en-806-3-flows",
	"en-806-4":       "en-806-4-6",
	"ethekwini-1996": "ethekwini-2023-74",
	"gn-r509":        "not-found",
	"ibc-2012":       "ibc-1806-2",
	"ipc-2018":       "ipc-604-3",
	"irc-2003":       "irc-p2902",
	"irc-2018":       "irc-p2605-1",
	"nbc-2016":       "nbc-2016-9-1-head",
	"nhbc-2020":      "nhbc-8-1-4",
	"si-1999-1148":   "si-1999-reg5",
	"upc-2024":       "upc-609-9",
	"us-cfr-141":     "us-cfr-141-65",
	"us-epa-2002":    "trade",
	"vba-2014":       "asnzs-3500-1-3-3-4",
	"who-2011":       "who-2017",
}

// retiredRules are rules of profiles that no judgement ever read. They are gone: a figure in a
// profile that decides nothing looks like one that does. A user's file that still has one is read
// without it.
var retiredRules = map[string]bool{
	"chlorine-least": true, "chlorine-most": true, "chlorine-stream": true,
	"lift-one": true, "lift-two": true, "min-run": true, "neutralise-bisulphite": true,
}
