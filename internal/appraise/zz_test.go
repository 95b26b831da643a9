package appraise
import ("testing";"context")
func BenchmarkMoves(b *testing.B){
 in:=input(b,"kestrel-rise")
 a,err:=evaluate(in,true)
 if err!=nil{b.Fatal(err)}
 b.ReportAllocs()
 in.Doc=nil
 for range b.N { if _,err:=rerun(context.Background(),in,a,nil);err!=nil{b.Fatal(err)} }
}
