package cutting
import ("testing";"context";"io/fs";"time";"hemwright/internal/demo";"hemwright/internal/intake";"hemwright/internal/show/show";"hemwright/internal/show/answer";"hemwright/internal/plan/running";"hemwright/internal/plan/needs";"hemwright/internal/plan/sourcing";"hemwright/internal/plan/money";"hemwright/internal/plan/caution";"hemwright/internal/value/solve";"hemwright/internal/value/units")
func TestZZ(t *testing.T){
 var files []intake.File
 fsys:=demo.Files()
 fs.WalkDir(fsys,".",func(p string,d fs.DirEntry,e error)error{ if d==nil||d.IsDir(){return nil}; b,_:=fs.ReadFile(fsys,p); files=append(files,intake.File{Name:p,Data:b}); return nil})
 h,rep,err:=intake.Take(show.House{},files)
 if err!=nil {t.Fatal(err)}
 t.Log(len(h.Performers),len(h.Roles),len(h.Pieces),len(h.Garments),len(h.Finds),len(rep.Left))
 for i,l:=range rep.Left { if i<20 {t.Logf("%+v",l)} }
 day,_:=units.ParseDate("2027-03-14")
 h=h.At(day)
 tl:=running.Timelines(&h)
 for _,x:=range tl { n:=[3]int{}; for _,c:=range x.Changes{ if c.Seconds<180{n[0]++}; if c.Seconds<120{n[1]++}; if c.Seconds<45{n[2]++}}; t.Log(x.Cast,len(x.Changes),n,x.MostAtOnce,x.End,x.Playing,len(x.Duties)); if bad:=running.Check(&h,x);len(bad)>0{t.Error(bad[0].Sentence(0))}}
 nd:=needs.List(&h); t.Log(len(nd.Needs),len(nd.Missing),nd.Notions); for _,m:=range nd.Missing{t.Log(m.Why.Sentence(0))}
 s:=time.Now(); es:=Estimate(&h); t.Log("estimates",len(es),time.Since(s))
 lim:=money.Limit(&h); t.Log("money",lim)
 in:=sourcing.Input{House:&h,Estimates:es,Money:lim,Hours:[]sourcing.HoursFor{{"tailor",[]answer.Skill{answer.Tailor},100*60},{"maker",[]answer.Skill{answer.Tailor,answer.Maker},210*60},{"all",[]answer.Skill{answer.Tailor,answer.Maker,answer.Straight,answer.Beginner,answer.Trim},336*60}}}
 s=time.Now(); pl,err:=sourcing.Share(context.Background(),in,solve.Budget{}); t.Log("share",time.Since(s),err,pl.Outcome,pl.Outcome.Gap(),pl.Saves)
 for _,r:=range sourcing.Check(in,pl){t.Error(r.Sentence(0))}
 cnt:=map[answer.Source]int{}; min:=units.Minutes(0)
 for _,c:=range pl.Choices{ cnt[c.Source]++; min+=c.Minutes(); p:=h.Piece(c.Piece); t.Logf("%s %-30s %-18s %-10s %s %s %dmin look%d cost%d €%s", c.Piece,p.Name,p.Colour,c.Source,c.Garment,c.Cloth,c.Minutes(),c.Look,c.Cost,c.Money)}
 t.Log(cnt,min.Hours()); for _,l:=range pl.Limits{ if l.Used>0{t.Log(l)}}
 s=time.Now(); ct,err:=Cut(context.Background(),&h,pl,solve.Budget{Effort:solve.Quick}); t.Log("cut",time.Since(s),err,len(ct.Drafts),len(ct.Lays))
 for _,l:=range ct.Lays{t.Log(l.Cloth,len(l.Placed),len(l.Missing),l.Used,l.Left,l.Share)}
 for _,r:=range Check(&h,ct){t.Error(r.Sentence(0))}
 m:=money.Report(&h,pl); t.Log(m.Verdict.Reasons[0].Sentence(0)); for _,r:=range money.Check(&h,pl,m){t.Error(r.Sentence(0))}
 cs:=caution.List(&h,pl); for _,c:=range cs{t.Log(c.Key,c.Reason.Sentence(0))}
}
