package api

import (
	"context"
	"mime"
	"net/http"
	"reflect"
	"strconv"
	"strings"

	"foamwright/api/guard"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/people"

	"github.com/danielgtaylor/huma/v2"
	"github.com/gofiber/fiber/v2"
)

// call is what goes with one request past huma, which would check bodies and word errors itself.
type call struct {
	body []byte
	by   string // name of who asks
	role people.Role
	site string // address that was asked
	err  error
}

type callKey struct{}

func callOf(ctx context.Context) *call { return ctx.Value(callKey{}).(*call) }

// enter begins a call, refuses bodies that nobody reads, and gives the call's error to the error handler.
func enter(c *fiber.Ctx) error {
	k := &call{site: c.BaseURL()}
	if p, ok := guard.Person(c); ok {
		k.by, k.role = p.Name, p.Role
	}
	largest, said, wanted := MaxBody, "1 MB", fiber.MIMEApplicationJSON
	if isFile(c.Path()) {
		largest, said, wanted = stock.MaxCSV, "2 MB", csvType
	}
	if size := len(c.Request().Body()); size > largest {
		return fault.New(fault.TooLarge, "This is larger than %s, more than is accepted at once; send less.", said)
	} else if size > 0 {
		media, _, err := mime.ParseMediaType(c.Get(fiber.HeaderContentType))
		// A packed body could unpack to any size, so none is taken.
		if packed := c.Get(fiber.HeaderContentEncoding); err != nil || media != wanted || packed != "" && packed != "identity" {
			return fiber.ErrUnsupportedMediaType
		}
		k.body = c.Body()
	}
	c.Locals(callKey{}, k)
	if err := c.Next(); err != nil {
		return err
	}
	return k.err
}

// operation mounts one operation without a body, for the owner and the roles named.
func operation[I, O any](f *face, op huma.Operation, roles []people.Role, handle func(ctx context.Context, in *I) (*O, error)) {
	op.SkipValidateParams = true // our handlers say what is wrong, in our words
	op.Tags = []string{strings.Split(op.Path, "/")[1]}
	statuses := append([]int{http.StatusUnauthorized, http.StatusForbidden}, op.Errors...)
	if strings.Contains(op.Path, "{id}") {
		statuses = append(statuses, http.StatusNotFound)
	}
	if op.Method == http.MethodGet {
		op.Security = []map[string][]string{{"token": {}}, {"session": {}}} // nothing changes, so no form token
	}
	op.Errors = nil // else huma documents them as its own
	if op.Responses == nil {
		op.Responses = map[string]*huma.Response{}
	}
	for _, s := range statuses {
		op.Responses[strconv.Itoa(s)] = &huma.Response{Ref: problemRef}
	}
	op.Responses["default"] = &huma.Response{Ref: problemRef}

	path := strings.NewReplacer("{", ":", "}", "").Replace(op.Path)
	f.group.Add(op.Method, path, f.guard.Require(append([]people.Role{people.Owner}, roles...)...))
	huma.Register(f.API, op, func(ctx context.Context, in *I) (*O, error) {
		out, err := handle(ctx, in)
		if err != nil {
			callOf(ctx).err = err
			return nil, nil
		}
		return out, nil
	})
}

// taking mounts an operation whose body is a B.
func taking[I, B, O any](f *face, op huma.Operation, roles []people.Role, handle func(ctx context.Context, in *I, body B) (*O, error)) {
	op.Errors = append(op.Errors, http.StatusRequestEntityTooLarge, http.StatusUnsupportedMediaType, http.StatusUnprocessableEntity)
	operation(f, op, roles, func(ctx context.Context, in *I) (*O, error) {
		body, err := read[B](callOf(ctx).body)
		if err != nil {
			return nil, err
		}
		return handle(ctx, in, body)
	})
	// Described only now: huma reads and checks every body it knows of.
	item, doc := f.OpenAPI().Paths[op.Path], &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{
		"application/json": {Schema: f.OpenAPI().Components.Schemas.Schema(reflect.TypeFor[B](), true, "")},
	}}
	switch op.Method {
	case http.MethodPost:
		item.Post.RequestBody = doc
	case http.MethodPut:
		item.Put.RequestBody = doc
	}
}

// Parts that several operations take and give.
type (
	none struct{}
	byID struct {
		ID string `path:"id" format:"uuid"`
	}
	answer[T any] struct{ Body T }
	made[T any]   struct {
		Location string `header:"Location"`
		Body     T
	}
)
