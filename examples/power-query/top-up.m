// Every sump of a table, answered by Sumpwright: what to drain and what to add.
//
// In the workbook, mark the table with its headings, and give it the name "sumps" (Excel: Formulas, Define Name,
// or make it a table of that name). The headings are those that the service knows: sump.capacity, sump.volume,
// sump.reading.method, sump.reading.brix, sump.reading.factor, target.concentration, with a unit where you like
// (sump.volume [L]); any other column comes back as it is. Then: Data, Get Data, From Other Sources, Blank Query;
// Home, Advanced Editor; replace what stands there by this text; Close & Load. Data, Refresh All asks again. Where
// it asks about privacy, the workbook and the service are both of your organisation.
let
    // Where the service is, and its key if it wants one. A key goes in a header, never in the address.
    Service = "http://127.0.0.1:8787",
    Key = "",
    Units = "metric",
    Columns = "answer.drain,answer.add.0.volume,answer.add.1.volume,answer.after.mark",

    // The table as CSV: numbers with a point, texts in quotation marks.
    Sumps = Excel.CurrentWorkbook(){[Name = "sumps"]}[Content],
    Headed = if List.Contains(Table.ColumnNames(Sumps), "Column1")
        then Table.PromoteHeaders(Sumps, [PromoteAllScalars = true])
        else Sumps,
    Written = (cell as any) as text =>
        if cell = null then ""
        else if cell is number then Number.ToText(cell, "R", "en-US")
        else """" & Text.Replace(Text.From(cell, "en-US"), """", """""") & """",
    Line = (cells as list) as text => Text.Combine(List.Transform(cells, Written), ","),
    Lines = {Line(Table.ColumnNames(Headed))} & List.Transform(Table.ToRows(Headed), Line),
    Sent = Text.ToBinary(Text.Combine(Lines, "#(lf)"), TextEncoding.Utf8),

    // With Content it is a POST, which Power Query sends as "anonymous": choose that when it asks.
    Headers = [#"Content-Type" = "text/csv"]
        & (if Key = "" then [] else [Authorization = "Bearer " & Key]),
    Answer = Web.Contents(
        Service,
        [
            RelativePath = "v1/top-up",
            Query = [units = Units, columns = Columns],
            Headers = Headers,
            Content = Sent,
            ManualStatusHandling = {400, 401, 403, 404, 413, 415, 422, 429, 503}
        ]
    ),
    Status = Value.Metadata(Answer)[Response.Status],
    // A row without an answer says why in its column "problem"; a table that was not taken says it here.
    Answered = if Status = 200
        then Csv.Document(Answer, [Delimiter = ",", Encoding = TextEncoding.Utf8, QuoteStyle = QuoteStyle.Csv])
        else error Error.Record("Sumpwright", Record.FieldOrDefault(Json.Document(Answer), "detail", "No answer")),
    Named = Table.PromoteHeaders(Answered, [PromoteAllScalars = true]),
    Numbers = List.Select(Table.ColumnNames(Named), each Text.StartsWith(_, "answer.")),
    Typed = Table.TransformColumnTypes(Named, List.Transform(Numbers, each {_, type number}), "en-US")
in
    Typed
