using System.Globalization;
using System.Text;

namespace DecayAtlas.Contributions.Sheets;

/// <summary>Reads the tables of a web page, which many programs save under the name of a workbook, as one sheet: below each other, the text
/// between them as lines.</summary>
internal sealed class HtmlTables
{
    // Letters at the beginning in which a page says that it is one.
    private const int Head = 4096;

    private static readonly string[] Marks = ["<html", "<table", "<!doctype html", "<body", "<tr", "office:spreadsheet"];

    private readonly IntakeLimits _limits;
    private readonly List<SheetRow> _rows = [];
    private readonly SeenSheet _sheet;
    private readonly Dictionary<string, CellFace> _faceByClass = [];
    private readonly HashSet<string> _hiddenClasses = [];
    private readonly StringBuilder _text = new();
    private readonly Stack<OpenTable> _tables = new();
    private int _number;
    private long _held;

    private HtmlTables(string path, IntakeLimits limits)
    {
        _limits = limits;
        _sheet = new SeenSheet(new Sheet(path, null, _rows));
    }

    public static bool Is(ReadOnlySpan<byte> bytes)
    {
        string head = TextTable.Decoded(bytes[..Math.Min(bytes.Length, Head)]).Text.TrimStart();
        return head.StartsWith('<') && Array.Exists(Marks, mark => head.Contains(mark, StringComparison.OrdinalIgnoreCase));
    }

    public static SeenFile? Read(string path, ReadOnlySpan<byte> bytes, IntakeLimits limits, FindingList findings)
    {
        (string html, string? encoding) = TextTable.Decoded(bytes);
        if (html.AsSpan(0, Math.Min(html.Length, Head)).Contains("urn:schemas-microsoft-com:office:spreadsheet", StringComparison.Ordinal)
            && !html.Contains("<table", StringComparison.OrdinalIgnoreCase))
        {
            findings.Add(FindingCode.WorkbookKind, path, "a workbook in the XML of 2003", "a workbook saved as .xlsx", "save it as .xlsx");
            return null;
        }
        HtmlTables tables = new(path, limits);
        try
        {
            foreach (HtmlToken token in HtmlTokens.Of(html))
            {
                findings.Time.Ask();
                tables.Take(token);
            }
            while (tables._tables.Count > 0)
                tables.CloseTable();
            tables.Line();
        }
        catch (WorkbookTooLargeException fault)
        {
            findings.Add(FindingCode.WorkbookTooLarge, path, fault.Message, "a page with nothing but the tables in it",
                "take out what does not belong to the tables, or save it as .xlsx");
            return null;
        }
        return new SeenFile(path, [tables._sheet], IsText: true, IsDate1904: false, encoding) { IsPage = true };
    }

    private void Take(HtmlToken token)
    {
        switch (token.Name)
        {
            case "":
                if (_text.Length < FieldSchema.LongestOfAll * 4)
                    _text.Append(token.Text);
                break;
            case "rules":
                Rules(token.Text);
                break;
            case "table":
                Line();
                _tables.Push(new OpenTable(_tables.Count == 0 ? ++_number : _number));
                break;
            case "/table":
                CloseTable();
                break;
            case "tr" when _tables.TryPeek(out OpenTable? table):
                CloseRow(table);
                table.IsHiddenRow = IsHidden(token);
                table.Row = FaceOf(token);
                break;
            case "/tr" when _tables.TryPeek(out OpenTable? table):
                CloseRow(table);
                break;
            case "td" or "th" when _tables.TryPeek(out OpenTable? table):
                CloseCell(table);
                table.Open = (Span(token, "colspan", _limits.MaxColumns), Span(token, "rowspan", 65_534), FaceOf(token) ?? table.Row);
                _text.Clear();
                break;
            case "/td" or "/th" when _tables.TryPeek(out OpenTable? table):
                CloseCell(table);
                break;
            case "br" or "p" or "/p" or "div" or "/div" or "h1" or "/h1" or "h2" or "/h2" or "h3" or "/h3" or "li" or "/li":
                if (_tables.Count == 0)
                    Line();
                else
                    _text.Append(' ');
                break;
        }
    }

    // What stands outside of tables is a line of its own.
    private void Line()
    {
        string text = Plain();
        _text.Clear();
        if (text.Length > 0 && _tables.Count == 0)
            Keep(++_number, [SheetCell.OfText(text)]);
    }

    private string Plain() =>
        HalfLetter.Replaced(string.Join(' ', _text.ToString().Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)));

    private void CloseCell(OpenTable table)
    {
        if (table.Open is not { } open)
            return;
        table.Open = null;
        string text = Plain();
        _text.Clear();
        int column = table.Cells.Count;
        // places that a cell above takes with its rowspan
        while (table.Down.TryGetValue(column, out int left) && left > 0)
        {
            table.Cells.Add(SheetCell.Empty);
            column++;
        }
        if (column + open.Over > _limits.MaxColumns)
            throw new WorkbookTooLargeException(Invariant($"more than {_limits.MaxColumns} columns"));
        table.Cells.Add(SheetCell.OfText(text));
        for (int i = 1; i < open.Over; i++)
            table.Cells.Add(SheetCell.Empty);
        int number = table.Next;
        for (int i = 0; i < open.Over && open.Down > 1; i++)
            table.Opened[column + i] = open.Down;
        if (open.Face is { } face && face != CellFace.Plain && _sheet.Faces.Count < SeenSheet.MostFaces)
            _sheet.Faces[(number, column)] = face;
        if ((open.Over > 1 || open.Down > 1) && _sheet.Merged.Count < SeenSheet.MostFaces)
            _sheet.Merged.Add(new MergedArea(number, column, number + open.Down - 1, column + open.Over - 1));
    }

    private void CloseRow(OpenTable table)
    {
        CloseCell(table);
        if (table.Cells.Count == 0)
            return;
        foreach (int column in table.Down.Keys.ToArray())
            table.Down[column]--;
        foreach ((int column, int rows) in table.Opened)
            table.Down[column] = rows - 1;
        table.Opened.Clear();
        foreach (int column in table.Down.Where(one => one.Value <= 0).Select(one => one.Key).ToArray())
            table.Down.Remove(column);
        int filled = table.Cells.FindLastIndex(cell => cell.Kind != SheetCellKind.Empty) + 1;
        if (filled > 0)
            Keep(table.Next, [.. table.Cells.Take(filled)]);
        if (table.IsHiddenRow)
            _sheet.HiddenRows.Add(table.Next);
        table.Cells.Clear();
        table.Next++;
        _number = Math.Max(_number, table.Next - 1);
    }

    private void CloseTable()
    {
        if (!_tables.TryPop(out OpenTable? table))
            return;
        CloseRow(table);
        _number = Math.Max(_number, table.Next);
        if (_tables.TryPeek(out OpenTable? outer))
            outer.Next = Math.Max(outer.Next, _number + 1);
    }

    private void Keep(int number, SheetCell[] cells)
    {
        _held += cells.Length;
        if (_rows.Count > _limits.MaxRows || _held > Sheet.MostCells)
            throw new WorkbookTooLargeException(Invariant($"more than {_limits.MaxRows} rows, or more cells than any table of bags has"));
        if (_rows.Count > 0 && _rows[^1].Row >= number)
            number = _rows[^1].Row + 1;
        _rows.Add(new SheetRow(number, cells));
    }

    private static int Span(HtmlToken token, string name, int most) => token.Attributes.TryGetValue(name, out string? text)
        && int.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int span) ? Math.Clamp(span, 1, most) : 1;

    private bool IsHidden(HtmlToken token) => token.Attributes.ContainsKey("hidden")
        || (token.Attributes.TryGetValue("style", out string? style) && IsUndrawn(style))
        || (token.Attributes.TryGetValue("class", out string? name) && _hiddenClasses.Contains(name));

    private static bool IsUndrawn(string style) =>
        style.Replace(" ", "", StringComparison.Ordinal).Contains("display:none", StringComparison.OrdinalIgnoreCase);

    private CellFace? FaceOf(HtmlToken token)
    {
        string? fill = token.Attributes.TryGetValue("bgcolor", out string? colour) ? HtmlColour.Of(colour) : null;
        CellFace? face = token.Attributes.TryGetValue("style", out string? style) ? Drawn(style) : null;
        if (face is null && token.Attributes.TryGetValue("class", out string? name))
            face = _faceByClass.GetValueOrDefault(name);
        return fill is null ? face : (face ?? CellFace.Plain) with { Fill = fill };
    }

    // Rules of the page's own: .xl65 { background:#FFFF00; }
    private void Rules(string rules)
    {
        foreach (string rule in rules.Split('}'))
        {
            int open = rule.IndexOf('{', StringComparison.Ordinal);
            int dot = open < 0 ? -1 : rule.LastIndexOf('.', open);
            if (dot < 0 || _faceByClass.Count > 10_000)
                continue;
            string name = rule[(dot + 1)..open].Trim(), body = rule[(open + 1)..];
            if (Drawn(body) is { } face)
                _faceByClass[name] = face;
            if (IsUndrawn(body))
                _hiddenClasses.Add(name);
        }
    }

    private static CellFace? Drawn(string style)
    {
        string? fill = null, ink = null;
        bool isStruck = false;
        foreach (string part in style.Split(';'))
        {
            int colon = part.IndexOf(':', StringComparison.Ordinal);
            if (colon < 0)
                continue;
            string name = part[..colon].Trim().ToLowerInvariant(), value = part[(colon + 1)..].Trim();
            if (name is "background" or "background-color")
                fill = HtmlColour.Of(value.Split(' ')[0]) ?? fill;
            if (name == "color")
                ink = CellFace.InkOf(HtmlColour.Of(value)) ?? ink;
            isStruck |= name is "text-decoration" or "text-decoration-line" && value.Contains("line-through",
                StringComparison.OrdinalIgnoreCase);
        }
        return fill is null && ink is null && !isStruck ? null : new CellFace(fill, isStruck, null, false, ink);
    }

    private sealed class OpenTable(int next)
    {
        public List<SheetCell> Cells { get; } = [];

        /// <summary>Rows that a cell above still takes, by column.</summary>
        public Dictionary<int, int> Down { get; } = [];

        public Dictionary<int, int> Opened { get; } = [];

        public (int Over, int Down, CellFace? Face)? Open { get; set; }

        public CellFace? Row { get; set; }

        public bool IsHiddenRow { get; set; }

        public int Next { get; set; } = next;
    }
}
