package quantity

import (
	"fmt"

	"tideover/internal/words"
)

// dimKeys are the stable names of the dimensions, used in message ids.
var dimKeys = [...]string{
	NoDim:          "none",
	LengthDim:      "length",
	AreaDim:        "area",
	VolumeDim:      "volume",
	PressureDim:    "pressure",
	HeadDim:        "head",
	FlowDim:        "flow",
	VelocityDim:    "velocity",
	PowerDim:       "power",
	EnergyDim:      "energy",
	VoltageDim:     "voltage",
	CurrentDim:     "current",
	MassDim:        "mass",
	TimeDim:        "time",
	TemperatureDim: "temperature",
	MoneyDim:       "money",
	RatioDim:       "ratio",
	DoseDim:        "dose",
	FlowFactorDim:  "flow-factor",
	LoadDim:        "load",
}

// Dims returns every dimension but NoDim, in order.
func Dims() []Dim {
	list := make([]Dim, 0, len(dimKeys)-1)
	for d := LengthDim; int(d) < len(dimKeys); d++ {
		list = append(list, d)
	}
	return list
}

// Key returns the stable name of the dimension ("flow-factor"), for files and ids.
// It panics for a number that is no dimension, which is our own fault.
func (d Dim) Key() string {
	if int(d) >= len(dimKeys) {
		panic(fmt.Sprintf("quantity: dimension %d: there are only %d", uint8(d), len(dimKeys)))
	}
	return dimKeys[d]
}

// String returns the name of the dimension in plain words ("flow").
func (d Dim) String() string { return words.Say("quantity.dim."+d.Key(), nil) }

// DimOf returns the dimension of the named type T, NoDim when it has none.
func DimOf[T ~float64]() Dim {
	var zero T
	switch any(zero).(type) {
	case Length:
		return LengthDim
	case Area:
		return AreaDim
	case Volume:
		return VolumeDim
	case Pressure:
		return PressureDim
	case Head:
		return HeadDim
	case Flow:
		return FlowDim
	case Velocity:
		return VelocityDim
	case Power:
		return PowerDim
	case Energy:
		return EnergyDim
	case Voltage:
		return VoltageDim
	case Current:
		return CurrentDim
	case Mass:
		return MassDim
	case Time:
		return TimeDim
	case Temperature:
		return TemperatureDim
	case Money:
		return MoneyDim
	case Ratio:
		return RatioDim
	case Dose:
		return DoseDim
	case FlowFactor:
		return FlowFactorDim
	case Load:
		return LoadDim
	}
	return NoDim
}

// From makes a typed value of q. It panics when q is of another dimension than T: a
// caller that asked Parse for one dimension and takes another is our own fault.
func From[T ~float64](q Quantity) Val[T] {
	if d := DimOf[T](); d != q.Dim {
		panic(fmt.Sprintf("quantity: From: a %s was asked of a %s", d.Key(), q.Dim.Key()))
	}
	return Val[T]{V: T(q.SI), Half: T(q.Half), Basis: q.Basis}
}

// Quantity returns v with its dimension, which is found from T; its source key stays behind.
func (v Val[T]) Quantity() Quantity {
	return Quantity{Dim: DimOf[T](), SI: float64(v.V), Half: float64(v.Half), Basis: v.Basis}
}

// Of returns the bare typed value x as a Quantity worked out by us, without a spread.
func Of[T ~float64](x T) Quantity {
	return Quantity{Dim: DimOf[T](), SI: float64(x), Basis: Derived}
}
