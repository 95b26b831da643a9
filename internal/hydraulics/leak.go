package hydraulics

// How much a worn seat passes, as a share of the flow factor of the part fully open.
// Both are assumptions: nobody measures them in a home before the work starts. They are
// the seat leakage classes III and II of control valves, which are what a soft seat
// comes down to with a scratch in it and with grit on it.
// Source: IEC 60534-4:2021 (FCI 70-2), class III 0.1 %, class II 0.5 % of rated capacity.
const (
	WornSeat  = 1e-3 // a valve shut by hand that no longer shuts tight
	FouledLip = 5e-3 // a non-return valve with grit under it
)

// NewLeak makes what passes a part that should pass nothing: a small passage of share
// (0 to 1) of the flow factor kv [m³/s at 1 bar] the part has fully open, in either
// direction. It stands beside the part, Off until a case says that the seat leaks.
//
//	h = (1 bar/(1000 kg/m³ g)) (q/(share Kv))²
//
// The square law is an assumption: a scratch narrow enough to hold laminar flow passes
// more than this at low pressure and less at high.
func NewLeak(part string, from, to int32, kv, share float64) (Element, error) {
	g := guard{part: part}
	g.want("flow factor", kv, kv >= 1e-9 && kv <= 10, "1e-9 to 10 m³/s at 1 bar")
	g.want("share that leaks", share, share > 0 && share <= 1, "above 0 and to 1")
	if err := g.fail(); err != nil {
		return Element{}, err
	}
	law, err := NewFixed(part, kv*share)
	if err != nil {
		return Element{}, err
	}
	return Element{Name: part, From: from, To: to, Law: law}, nil
}
