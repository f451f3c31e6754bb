package quality
import ("testing";"os";"image/jpeg";"image";"bytes";"path/filepath";"fmt")
func enc(g *image.Gray,q int) *image.Gray { var b bytes.Buffer; jpeg.Encode(&b,g,&jpeg.Options{Quality:q}); m,_ := jpeg.Decode(&b); h:=m.(*image.Gray); o:=image.NewGray(g.Rect); for y:=range g.Rect.Dy() { copy(o.Pix[y*o.Stride:][:o.Stride],h.Pix[y*h.Stride:]) }; return o }
func TestZZ(t *testing.T){
 fs,_ := filepath.Glob("/tmp/t34/blur/*@0.jpg")
 for mode=0;mode<3;mode++ { for _,q := range []int{0,95,85,70} {
 counts := map[string][]int{}
 vals := ""
 for i:=0;i<len(fs)+6;i++ { var g *image.Gray
  if i<len(fs) { r,_ := os.Open(fs[i]); img,_ := jpeg.Decode(r); if _,ok := img.(*image.CMYK);ok { continue }; h:=Brightness(img); g=image.NewGray(image.Rect(0,0,min(960,h.Rect.Dx()),min(720,h.Rect.Dy()))); for y:=range g.Rect.Dy() { copy(g.Pix[y*g.Stride:][:g.Rect.Dx()],h.Pix[(y+(h.Rect.Dy()-g.Rect.Dy())/2)*h.Stride+(h.Rect.Dx()-g.Rect.Dx())/2:]) } } else { g=tube(900,680,uint64(i)) }
  vals += fmt.Sprintf("  %-22.22s", func() string { if i<len(fs) {return filepath.Base(fs[i])}; return "tube"}())
  for n,s := range []float64{0,0.7,1,2,3,5} {
   b := noisy(gauss(g,s,g.Rect),1,uint64(i)); if q>0 { b=enc(b,q) }
   m := measure(b,image.Rectangle{}); vals += fmt.Sprintf(" %5.2f",m.Spread)
   for k,l := range map[string]float64{"1.6":1.6,"1.8":1.8,"1.3":1.3} { if counts[k]==nil { counts[k]=make([]int,6) }; if m.Spread>l { counts[k][n]++ } } }
  vals += "\n" }
 t.Log("mode",mode,"q",q,counts); if q==85||q==0 { t.Log("\n"+vals) } }}
}
