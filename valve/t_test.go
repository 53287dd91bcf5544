package valve
import ("testing";"fmt";"time")
func TestX(t *testing.T){
 for _,ty := range Types() { p,err:=ty.ReadExample(); if err!=nil {fmt.Println(err)}; for _,pos := range ty.Positions { m,err := ty.Build(p,In(998.2,pos)); if err!=nil {fmt.Println(err);continue}; 
 sc,_ := m.SelfClosing()
 fo := m.FullOpenVelocity()
 fmt.Printf("%s %s eta %.3f W %.2f self %v crack %.3f hold %.3f Vo %.3f %v K %.3f xi %.3f\n   ",ty.Key,pos,m.Efficiency,m.SubmergedN,sc,m.CrackingHeadM(),m.LeastBackHeadM(),fo.VelocityMS,fo.Meaning,fo.Loss,fo.Xi/m.Stroke)
 for _,v := range []float64{.2,.5,.99,1.28,1.5,2,3} { r:=m.Settle(v); fmt.Printf(" %.2f:%.3f %v %.3f(%d)",v,r.Share,r.Standing,r.Loss,len(r.Others)) }
 fmt.Printf("\n   ")
 for _,a := range []float64{2,6,12} { t0:=time.Now(); c,err := m.Close(Deceleration{StartMS:2,RateMS2:a}); if err!=nil {fmt.Println(err)}
  d:=time.Since(t0); c2,_ := m.WithoutAcceleration().Close(Deceleration{StartMS:2,RateMS2:a}); fmt.Printf(" %g: %v VR %.3f off %.3f t %.3f u %.2f dec %.2f %dus",a,c.Outcome,c.ReverseVelocityMS,c2.ReverseVelocityMS,c.TimeS,c.SeatingSpeed,c.DecelerationMS2,d.Microseconds()) }
 fmt.Println()
 } } }
