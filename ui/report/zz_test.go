package report
import ("testing";"os";"bytes";"fmt")
func TestZZ(t *testing.T){
 a:=made(t,asOpenPDF,twoVisits(t))
 for i:=0;i<12;i++{ b:=made(t,asOpenPDF,twoVisits(t)); if !bytes.Equal(a,b){ n:=0; for n<len(a)&&n<len(b)&&a[n]==b[n]{n++}
  fmt.Println(i,len(a),len(b),n); lo:=max(0,n-200); fmt.Printf("%q\n%q\n",a[lo:min(n+150,len(a))],b[lo:min(n+150,len(b))]); os.WriteFile("/tmp/report-out/a.bin",a,0644);os.WriteFile("/tmp/report-out/b.bin",b,0644); return}}
}
