// Asks a service with a client generated from its own document.
//
// Run by tests/tools/clients/run. The answers are compared with the examples of the
// document and with a mass balance calculated here: litres (or gallons) of
// concentrate present and wanted.
package main

import (
	"check/sumpwright"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
	"math"
	"net/http"
	"os"
	"reflect"
	"strings"
	"time"
)

type object = map[string]any

var (
	document object
	client   *sumpwright.APIClient
	ctx      = context.Background()
)

func main() {
	log.SetFlags(0)
	address, file := os.Args[1], os.Args[2]
	text, err := os.ReadFile(file)
	must(err)
	must(json.Unmarshal(text, &document))
	configuration := sumpwright.NewConfiguration()
	configuration.Servers = sumpwright.ServerConfigurations{{URL: address}}
	configuration.HTTPClient = &http.Client{Timeout: time.Minute}
	client = sumpwright.NewAPIClient(configuration)
	if key := os.Getenv("KEY"); key != "" {
		ctx = context.WithValue(ctx, sumpwright.ContextAccessToken, key)
	}

	theExampleIsAnsweredAsTheDocumentSays()
	aQuestionOfItsOwnIsAnsweredByPostAndByGet()
	aProblemIsAProblem()
	aListAndAChoiceAreRead()
	everyExampleGoesThereAndBack()
	theIndexListsWhatThereIs()
	fmt.Println("the Go client was answered")
}

func must(err error) {
	if err != nil {
		log.Panic(err)
	}
}

func assert(holds bool, otherwise ...any) {
	if !holds {
		log.Panic(otherwise...)
	}
}

func assertNear(found, expected float64) {
	most := 1e-9 * math.Max(1, math.Abs(expected))
	assert(math.Abs(found-expected) <= most, found, " is not ", expected)
}

// What lies at a path of members in a part of the document; nothing where there is none.
func at(part any, path ...string) any {
	for _, name := range path {
		members, _ := part.(object)
		part = members[name]
	}
	return part
}

// What a typed value says, or a text of JSON, as plain maps, lists and numbers.
func plain(value any) (said any) {
	text, isText := value.([]byte)
	if !isText {
		var err error
		text, err = json.Marshal(value)
		must(err)
	}
	must(json.Unmarshal(text, &said))
	return said
}

func read(example any, into any) {
	text, err := json.Marshal(example)
	must(err)
	must(json.Unmarshal(text, into))
}

func theExampleIsAnsweredAsTheDocumentSays() {
	post := at(document, "paths", "/v1/top-up", "post")
	reference := at(post, "responses", "200", "$ref").(string)
	answers := at(document, strings.Split(reference, "/")[1:]...)
	var question sumpwright.TopUpQuestion
	read(at(post, "requestBody", "content", "application/json", "example"), &question)
	request := client.TopUpAPI.SolveTopUp(ctx).TopUpQuestion(question).XRequestId("invented-example-1")
	record, _, err := request.Execute()
	must(err)
	expected := at(answers, "content", "application/json", "example")
	assert(reflect.DeepEqual(plain(record), expected), "another answer than the document's")

	sump, target := question.Sump, question.Target
	reading := sump.Reading.Get().RefractometerReading
	strength := reading.Brix * reading.Factor / 100
	concentrate := sump.Capacity*target.Concentration/100 - sump.Volume*strength
	added := map[string]float64{}
	for _, part := range record.Answer.Add {
		added[part.Name] = part.Volume
	}
	assertNear(added["concentrate"], concentrate)
	assertNear(added["water"], sump.Capacity-sump.Volume-concentrate)
}

func aTopUpOfItsOwn(volume float64) sumpwright.TopUpQuestion {
	sump := sumpwright.NewMachineSump(50, volume)
	reading := sumpwright.NewRefractometerReading(4, 1.25)
	sump.SetReading(sumpwright.RefractometerReadingAsStrengthReading(reading))
	return *sumpwright.NewTopUpQuestion(sumpwright.UNITSYSTEM_US, *sump, *sumpwright.NewSumpTarget(8))
}

func aQuestionOfItsOwnIsAnsweredByPostAndByGet() {
	posted, _, err := client.TopUpAPI.SolveTopUp(ctx).TopUpQuestion(aTopUpOfItsOwn(40)).Execute()
	must(err)
	// 50·8 % − 40·5 % = 2 gallons of concentrate, and 8 of water.
	assertNear(posted.Answer.Add[0].Volume, 2)
	assertNear(posted.Answer.Add[1].Volume, 8)

	// The same sump: its reading is members of the query that may be left out.
	asked := client.TopUpAPI.AskTopUp(ctx).Units("us").SumpCapacity(50).SumpVolume(40).TargetConcentration(8)
	asked = asked.SumpReadingMethod("refractometer").SumpReadingBrix(4).SumpReadingFactor(1.25).Draining("allowed")
	record, _, err := asked.Reference("invented example: by address").Execute()
	must(err)
	assertNear(record.Answer.Add[0].Volume, 2)
	assertNear(record.Answer.Add[1].Volume, 8)
	assert(record.GetReference() == "invented example: by address", record.GetReference())
	empty := client.TopUpAPI.AskTopUp(ctx).Units("us").SumpCapacity(50).SumpVolume(0).TargetConcentration(8)
	record, _, err = empty.Execute()
	must(err)
	assertNear(record.Answer.Add[0].Volume, 4)
	assertNear(record.Answer.Add[1].Volume, 46)
}

func aProblemIsAProblem() {
	_, response, err := client.TopUpAPI.SolveTopUp(ctx).TopUpQuestion(aTopUpOfItsOwn(60)).Execute()
	var refused *sumpwright.GenericOpenAPIError
	assert(errors.As(err, &refused), err, " is no problem")
	problem, isTyped := refused.Model().(sumpwright.Problem)
	assert(isTyped && response.StatusCode == 422, string(refused.Body()))
	assert(problem.Type == "/problems/inconsistent" && problem.Status == 422, problem.Type)
	assert(problem.Errors[0].Pointer == "/sump/volume", problem.Errors[0].Pointer)
}

func aListAndAChoiceAreRead() {
	stock := func(name string, concentration, cost float64) sumpwright.FluidStock {
		stock := sumpwright.NewFluidStock(name, concentration)
		stock.SetUnitCost(cost)
		return *stock
	}
	recycled := stock("recycled", 4.2, 0.05)
	recycled.SetVolume(500)
	content := sumpwright.NewContentByProperty()
	content.SetTrampOil(0.7)
	recycled.SetProperties(*content)
	stocks := []sumpwright.FluidStock{recycled, stock("concentrate", 100, 6.4), stock("water", 0, 0.004)}
	target := sumpwright.NewBatchTarget(800, 6)
	question := sumpwright.NewBlendQuestion(sumpwright.UNITSYSTEM_METRIC, *target, stocks)
	question.SetReference("invented example: client")
	limit, limits := sumpwright.NewOilLimit(), sumpwright.NewContentLimitByProperty()
	limit.SetMax(0.5)
	limits.SetTrampOil(*limit)
	question.SetLimits(*limits)

	record, _, err := client.BlendAPI.SolveBlend(ctx).BlendQuestion(*question).Execute()
	must(err)
	assert(record.GetReference() == "invented example: client", record.GetReference())
	// All 500 L of recycled fluid hold 21 L of the 48 L of concentrate that are wanted.
	for place, volume := range []float64{500, 27, 273} {
		assertNear(record.Answer.Take[place].Volume, volume)
	}
	assert(len(record.Answer.Binding) == 1, record.Answer.Binding)
	binding := record.Answer.Binding[0].StockCost
	assert(binding != nil && binding.What == "/stocks/0/volume", record.Answer.Binding)
	// A litre more of it saves 0.042 L of concentrate and 0.958 L of water.
	assertNear(binding.Worth, 0.042*6.4+0.958*0.004-0.05)
}

// Every number to its last bit, of each question and of its answer.
func everyExampleGoesThereAndBack() {
	seen := 0
	for path, item := range document["paths"].(object) {
		if at(item, "post") == nil {
			continue
		}
		example := at(item, "post", "requestBody", "content", "application/json", "example")
		name := goName(strings.TrimPrefix(path, "/v1/"))
		service := reflect.ValueOf(client).Elem().FieldByName(name + "API")
		request := service.MethodByName("Solve" + name).Call([]reflect.Value{reflect.ValueOf(ctx)})[0]
		body := request.MethodByName(name + "Question")
		question := reflect.New(body.Type().In(0))
		read(example, question.Interface())
		assert(reflect.DeepEqual(plain(question.Interface()), example), path, ": another question")
		request = body.Call([]reflect.Value{question.Elem()})[0]
		back := request.MethodByName("Execute").Call(nil)
		assert(back[2].IsNil(), path, ": ", back[2])
		answer, err := io.ReadAll(back[1].Interface().(*http.Response).Body)
		must(err)
		assert(reflect.DeepEqual(plain(back[0].Interface()), plain(answer)), path, ": another answer")
		nothingIsUndeclared(path, question)
		nothingIsUndeclared(path, back[0])
		seen++
	}
	assert(seen > 0, "no example was found")
}

func goName(words string) (name string) {
	for _, word := range strings.Split(words, "-") {
		name += strings.ToUpper(word[:1]) + word[1:]
	}
	return name
}

// A generated type keeps a member that it does not know, untyped: none may be there but names
// of the caller's own.
func nothingIsUndeclared(path string, value reflect.Value) {
	switch value.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !value.IsNil() {
			nothingIsUndeclared(path, value.Elem())
		}
	case reflect.Slice:
		for place := 0; place < value.Len(); place++ {
			nothingIsUndeclared(path, value.Index(place))
		}
	case reflect.Map:
		for _, name := range value.MapKeys() {
			nothingIsUndeclared(path, value.MapIndex(name))
		}
	case reflect.Struct:
		for place := 0; place < value.NumField(); place++ {
			field, name := value.Field(place), value.Type().Name()
			if value.Type().Field(place).Name != "AdditionalProperties" {
				nothingIsUndeclared(path, field)
			} else if _, ofTheirOwn := at(document, "components", "schemas", name, "additionalProperties").(object); !ofTheirOwn {
				assert(field.Len() == 0, path, ": ", name, " has no ", field)
			}
		}
	}
}

func theIndexListsWhatThereIs() {
	index, _, err := client.ServiceAPI.ListCalculations(ctx).Execute()
	must(err)
	assert(len(index.Calculations) > 0, "no calculation is listed")
	for _, line := range index.Calculations {
		assert(at(document, "paths", line.Address) != nil, line.Address, " is unknown")
	}
}
