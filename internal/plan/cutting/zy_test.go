package cutting
import ("testing";"context";"io/fs";"time";"hemwright/internal/demo";"hemwright/internal/intake";"hemwright/internal/show/show";"hemwright/internal/show/answer";"hemwright/internal/plan/sourcing";"hemwright/internal/plan/money";"hemwright/internal/value/solve";"hemwright/internal/value/units")
func TestZY(t *testing.T){
 var files []intake.File
 fsys:=demo.Files()
 fs.WalkDir(fsys,".",func(p string,d fs.DirEntry,e error)error{ if d==nil||d.IsDir(){return nil}; b,_:=fs.ReadFile(fsys,p); files=append(files,intake.File{Name:p,Data:b}); return nil})
 h,_,err:=intake.Take(show.House{},files)
 if err!=nil {t.Fatal(err)}
 day,_:=units.ParseDate("2027-03-14")
 h=h.At(day)
 es:=Estimate(&h)
 lim:=money.Limit(&h)
 for _,steps:=range []int64{2500,20000} {
 in:=sourcing.Input{House:&h,Estimates:es,Money:lim,Hours:[]sourcing.HoursFor{{"tailor",[]answer.Skill{answer.Tailor},100*60},{"maker",[]answer.Skill{answer.Tailor,answer.Maker},210*60},{"all",[]answer.Skill{answer.Tailor,answer.Maker,answer.Straight,answer.Beginner,answer.Trim},336*60}}}
 s:=time.Now(); pl,err:=sourcing.Share(context.Background(),in,solve.Budget{Steps:steps}); t.Log("share",steps,time.Since(s),err,pl.Outcome,pl.Outcome.Gap(),pl.Saves)
 }
}
