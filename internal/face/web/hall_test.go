package web

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hemwright/internal/value/solve"
	"hemwright/internal/workshop"
)

// hallOf serves a demo house whose door opens on this machine only.
func hallOf(t *testing.T, path string) (*server, *httptest.Server) {
	t.Helper()
	set := workshop.Settings{Budget: solve.Budget{Effort: solve.Quick}}
	w, err := workshop.Open(path, set)
	if err != nil {
		w, _, err = workshop.Demo(path, set)
	}
	if err != nil {
		t.Fatal(err)
	}
	s, err := newServer(w, slog.New(slog.NewTextHandler(io.Discard, nil)))
	if err != nil {
		t.Fatal(err)
	}
	s.hosts = func() []string { return []string{"127.0.0.1"} }
	desk := httptest.NewServer(s.desk())
	t.Cleanup(func() { s.closeHall(); desk.Close(); w.Close() })
	return s, desk
}

func phoneOf(t *testing.T) *http.Client {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &http.Client{Jar: jar, Timeout: 10 * time.Second}
}

func send(t *testing.T, c *http.Client, to string, form url.Values) (int, string) {
	t.Helper()
	r, err := c.PostForm(to, form)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	b, _ := io.ReadAll(r.Body)
	return r.StatusCode, string(b)
}

func fetch(t *testing.T, c *http.Client, from string) (int, string) {
	t.Helper()
	r, err := c.Get(from)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	b, _ := io.ReadAll(r.Body)
	return r.StatusCode, string(b)
}

// The door: closed at first, opened for some work, one code a phone, sessions
// that end with it.
func TestTheDoor(t *testing.T) {
	s, desk := hallOf(t, filepath.Join(t.TempDir(), "h"))
	if code, body := post(t, desk.URL, "/phone", url.Values{"host": {"10.9.9.9"}}, ""); code != 422 || !strings.Contains(body, "10.9.9.9") {
		t.Errorf("an address that is not ours answers %d", code)
	}
	_, body := post(t, desk.URL, "/phone", url.Values{"host": {"127.0.0.1"}, "may": {toRail, toCount}}, "")
	first := s.hall.code
	if !strings.Contains(body, first[:3]+" "+first[3:]) || !strings.Contains(body, "square code of http://"+s.hall.addr) {
		t.Error("the page at the desk shows no code or no square")
	}
	hall := "http://" + s.hall.addr
	phone := phoneOf(t)
	if code, _ := fetch(t, phone, hall+"/rail"); code != 403 {
		t.Errorf("a phone not let in is answered %d", code)
	}
	if code, body := send(t, phone, hall+"/", url.Values{"code": {"000000"}}); first != "000000" && (code != 403 || !strings.Contains(body, "not the code")) {
		t.Errorf("a wrong code answers %d", code)
	}
	if code, body := send(t, phone, hall+"/", url.Values{"code": {first}}); code != 200 || !strings.Contains(body, "What now") {
		t.Fatalf("the code answers %d", code)
	}
	if code, _ := send(t, phoneOf(t), hall+"/", url.Values{"code": {first}}); code != 403 {
		t.Errorf("a code used again answers %d", code)
	}
	if code, _ := fetch(t, phone, hall+"/measure"); code != 403 {
		t.Errorf("measuring, which was not allowed, answers %d", code)
	}
	if code, _ := fetch(t, phone, hall+"/performers"); code != 404 {
		t.Errorf("a page of the desk answers %d in the hall", code)
	}
	s.closeHall()
	if _, err := phone.Get(hall + "/rail"); err == nil {
		t.Error("the door is closed and still answers")
	}
}

// Guessing is locked after ten tries, also for a program started anew; the
// desk unlocks.
func TestGuessingIsLocked(t *testing.T) {
	path := filepath.Join(t.TempDir(), "h")
	s, desk := hallOf(t, path)
	post(t, desk.URL, "/phone", url.Values{"host": {"127.0.0.1"}, "may": {toRail}}, "")
	for range mostTries {
		send(t, phoneOf(t), "http://"+s.hall.addr+"/", url.Values{"code": {"no"}})
	}
	if code, body := send(t, phoneOf(t), "http://"+s.hall.addr+"/", url.Values{"code": {s.hall.code}}); code != 403 || !strings.Contains(body, "locked") {
		t.Errorf("the right code after ten wrong ones answers %d", code)
	}
	s.closeHall()
	s.ws.Close()
	again, desk := hallOf(t, path)
	post(t, desk.URL, "/phone", url.Values{"host": {"127.0.0.1"}, "may": {toRail}}, "")
	if code, _ := send(t, phoneOf(t), "http://"+again.hall.addr+"/", url.Values{"code": {again.hall.code}}); code != 403 {
		t.Errorf("after a new start the right code answers %d", code)
	}
	post(t, desk.URL, "/phone", url.Values{"do": {"unlock"}}, "")
	if code, _ := send(t, phoneOf(t), "http://"+again.hall.addr+"/", url.Values{"code": {again.hall.code}}); code != 200 {
		t.Errorf("unlocked, the right code answers %d", code)
	}
}

// Strangers: another name of the address, another page's form, and a page
// nobody looks at any more.
func TestStrangersAtTheDoor(t *testing.T) {
	s, desk := hallOf(t, filepath.Join(t.TempDir(), "h"))
	post(t, desk.URL, "/phone", url.Values{"host": {"127.0.0.1"}, "may": {toRail}}, "")
	hall := "http://" + s.hall.addr
	for what, change := range map[string]func(*http.Request){
		"another name": func(r *http.Request) { r.Host = "elsewhere.example" },
		"another port": func(r *http.Request) { r.Host = "127.0.0.1:1" },
		"another page": func(r *http.Request) { r.Header.Set("Origin", "http://elsewhere.example") },
	} {
		req, _ := http.NewRequest("POST", hall+"/", strings.NewReader("code="+s.hall.code))
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		change(req)
		r, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		if r.StatusCode != 403 || r.Header.Get("Set-Cookie") != "" {
			t.Errorf("%s answers %d", what, r.StatusCode)
		}
	}
	now := time.Now()
	s.hall.mu.Lock()
	s.hall.clock = func() time.Time { return now.Add(time.Hour) }
	s.hall.mu.Unlock()
	for range 40 {
		time.Sleep(250 * time.Millisecond)
		s.hall.mu.Lock()
		closed := s.hall.srv == nil
		s.hall.mu.Unlock()
		if closed {
			return
		}
	}
	t.Error("nobody looks at the page and the door is open")
}

// letIn gives a phone that was let in for some work.
func letIn(t *testing.T, s *server, desk *httptest.Server, may ...string) (*http.Client, string) {
	t.Helper()
	post(t, desk.URL, "/phone", url.Values{"host": {"127.0.0.1"}, "may": may}, "")
	phone, hall := phoneOf(t), "http://"+s.hall.addr
	if code, _ := send(t, phone, hall+"/", url.Values{"code": {s.hall.code}}); code != 200 {
		t.Fatalf("let in: %d", code)
	}
	return phone, hall
}

// One child at a time: what is wanted and not known yet; two adults; a number
// that does not go with the others is asked about and stays typed.
func TestMeasuringOnAPhone(t *testing.T) {
	s, desk := hallOf(t, filepath.Join(t.TempDir(), "h"))
	post(t, desk.URL, "/edit/performer/P12", url.Values{"chest": {""}, "waist": {""}}, "")
	phone, hall := letIn(t, s, desk, toMeasure)
	if _, body := fetch(t, phone, hall+"/measure"); !strings.Contains(body, ">Paloma<") || strings.Contains(body, "Ferreira") {
		t.Error("the list does not show first names only")
	}
	_, body := fetch(t, phone, hall+"/measure/P12")
	if !strings.Contains(body, `name="chest"`) || strings.Contains(body, `name="height"`) {
		t.Error("what is asked is not what is wanted and missing")
	}
	form := url.Values{"by": {"H2"}, "chest": {"29"}, "waist": {"62"}, "do": {"keep"}}
	if code, body := send(t, phone, hall+"/measure/P12", form); code != 422 || !strings.Contains(body, "Two adults") || !strings.Contains(body, `value="29"`) {
		t.Errorf("one adult answers %d", code)
	}
	form.Set("second", "H7")
	if code, body := send(t, phone, hall+"/measure/P12", form); code != 422 || !strings.Contains(body, "measure again?") || !strings.Contains(body, `value="29"`) {
		t.Errorf("29 cm round the chest answers %d", code)
	}
	form.Set("chest", "73.5")
	if code, body := send(t, phone, hall+"/measure/P12", form); code != 200 || !strings.Contains(body, "Paloma is done") {
		t.Errorf("73.5 answers %d", code)
	}
	if _, body := get(t, desk.URL, "/performers/P12"); !strings.Contains(body, "73.5") {
		t.Error("the number is not on her page")
	}
	if code, body := send(t, phone, hall+"/measure/P13", url.Values{"do": {"no"}}); code != 200 || !strings.Contains(body, "is done") {
		t.Errorf("no measuring answers %d", code)
	}
}

// A garment with a picture: flat numbers doubled, the picture written anew
// without what the phone put into it.
func TestRailOnAPhone(t *testing.T) {
	s, desk := hallOf(t, filepath.Join(t.TempDir(), "h"))
	phone, hall := letIn(t, s, desk, toRail)
	picture := withPlace(t, 2000, 1200)
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	for k, v := range map[string]string{"garment": "bridesmaid gown", "colour": "mint", "chest": "39", "length": "126", "rail": "B1"} {
		m.WriteField(k, v)
	}
	f, err := m.CreateFormFile("picture", "a.jpg")
	if err != nil {
		t.Fatal(err)
	}
	f.Write(picture)
	m.Close()
	r, err := phone.Post(hall+"/rail", m.FormDataContentType(), &b)
	if err != nil {
		t.Fatal(err)
	}
	body, _ := io.ReadAll(r.Body)
	r.Body.Close()
	if r.StatusCode != 200 || !strings.Contains(string(body), "G001 bridesmaid gown is kept") || !strings.Contains(string(body), `value="B1"`) {
		t.Fatalf("a garment answers %d", r.StatusCode)
	}
	if _, body := get(t, desk.URL, "/edit/garment/G001"); !strings.Contains(body, `value="39 cm flat"`) || !strings.Contains(body, `value="dress"`) {
		t.Error("the garment is not as it was written")
	}
	_, kept := get(t, desk.URL, "/pictures/G001")
	img, err := jpeg.Decode(strings.NewReader(kept))
	if err != nil {
		t.Fatal(err)
	}
	if long := img.Bounds().Dx(); long > 1600 || strings.Contains(kept, "Exif") || strings.Contains(kept, "48.8584") {
		t.Errorf("the picture is %d wide, or still says where it was taken", long)
	}
	if code, body := send(t, phone, hall+"/rail", url.Values{"garment": {""}}); code == 200 || !strings.Contains(body, "Not done") && !strings.Contains(body, "What is it?") {
		t.Errorf("a garment without a word answers %d", code)
	}
	if code, _ := get(t, desk.URL, "/pictures/G999"); code != 404 {
		t.Errorf("a picture that is not there answers %d", code)
	}
}

// withPlace is a JPEG with an Exif block that says where it was taken.
func withPlace(t *testing.T, w, h int) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range w {
		img.Set(i, i%h, color.RGBA{uint8(i), 90, 40, 255})
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	exif := []byte("Exif\x00\x00 taken at 48.8584, 2.2945")
	head := []byte{0xff, 0xd8, 0xff, 0xe1, 0, 0}
	binary.BigEndian.PutUint16(head[4:], uint16(len(exif)+2))
	return append(append(head, exif...), b.Bytes()[2:]...)
}

func TestCountingOnAPhone(t *testing.T) {
	s, desk := hallOf(t, filepath.Join(t.TempDir(), "h"))
	phone, hall := letIn(t, s, desk, toCount)
	_, before := fetch(t, phone, hall+"/count")
	code, after := send(t, phone, hall+"/count", url.Values{"hung": {"C001", "C002", "C003"}})
	if code != 200 || !strings.Contains(after, "3 counted") || before == after {
		t.Errorf("three hangers answer %d", code)
	}
	if code, body := send(t, phone, hall+"/count", url.Values{"hung": {"C999"}}); code != 404 || !strings.Contains(body, "C999") {
		t.Errorf("a piece that is not there answers %d", code)
	}
	for _, n := range []string{"166.4", "chest", "inside leg", "Delacroix"} {
		if strings.Contains(after, n) {
			t.Errorf("a helper's phone shows %q", n)
		}
	}
}
