package assembly

import (
	"tideover/internal/catalogue"
	"tideover/internal/job"
)

// Kinds of water heaters that an open vent is a matter of.
const (
	storagePressure = "storage-pressure"
	storageVented   = "storage-vented"
)

// Vented reports whether a water heater has an open vent, so that it takes no pressure
// beyond its own head: by its kind, or by what the job tells of a vent. A storage heater of
// which nobody told counts as vented; one that heats as it flows has none and is not asked.
func Vented(j *job.Job, row catalogue.Heater) bool {
	switch {
	case row.Kind == storageVented, j == nil:
		return row.Kind == storageVented
	case row.Kind == storagePressure:
		return job.Answer(j.Taken("home.heater.vent")) == job.Yes
	}
	return j.Home.Vent == job.Yes
}

// Relieved reports whether a heater keeps hot water under pressure, and so has a relief valve.
func Relieved(j *job.Job, row catalogue.Heater) bool {
	return row.Kind == storagePressure && !Vented(j, row)
}
