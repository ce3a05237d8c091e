using System.Text;

namespace DecayAtlas.Contributions.Proposal;

/// <summary>
/// Proposes a mapping for an unknown table. What the names and values of the columns leave open is written as TODO with a remark, and
/// a mapping with a TODO in it is refused; so nothing is ever guessed behind a person's back.
/// </summary>
/// <param name="Decisions">How many TODO a person has to replace.</param>
public sealed record MappingProposal(string Text, int Decisions)
{
    /// <summary>Looks at a table and proposes a mapping; null when the table cannot be read, and then the findings say why.</summary>
    /// <param name="sheet">The sheet to map; null where only one has something in it.</param>
    /// <exception cref="ContributionException">The file cannot be read.</exception>
    public static (MappingProposal? Proposal, IReadOnlyList<Finding> Findings) For(string path, IntakeLimits limits, string? sheet = null)
    {
        ReadingTime time = new(limits.MaxSeconds, TimeProvider.System);
        FindingList findings = new(time);
        FileInfo file = new(path);
        try
        {
            PackageFile table = new ReceivedFiles().Add(file.Name, file);
            TableSniff? sniff = TableSniff.Of(table, sheet, limits, findings);
            MappingProposal? proposal = sniff is null ? null : new ProposalWriter(file.Name, sniff).Write();
            return (proposal, findings.Close(file.Name));
        }
        catch (ReadingTimeOverException)
        {
            return (null, [time.Over(file.Name)]);
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            throw new ContributionException($"{file.Name} cannot be read: {StorageFault.Reason(fault)}.", fault);
        }
    }

    private sealed class ProposalWriter
    {
        private const string Todo = MappingReader.Todo;

        private readonly string _file;
        private readonly TableSniff _table;
        private readonly StringBuilder _text = new();
        private readonly bool _hasCommas;
        private readonly bool _isDecimalComma;
        private readonly Dictionary<(LitterRole? Role, string Field), List<NamedColumn>> _byField = [];
        private readonly List<(string Name, string Remark)> _undecided = [];
        private readonly Dictionary<int, ColumnEvidence> _evidence = [];

        public ProposalWriter(string file, TableSniff table)
        {
            _file = file;
            _table = table;
            ColumnEvidence[] columns =
                [.. table.Columns.Select(column => ColumnEvidence.Of(table.Rows, column.Column, isDecimalComma: false))];
            _hasCommas = table.IsText && columns.Any(seen => seen.HasDecimalComma);
            _isDecimalComma = _hasCommas && !columns.Any(seen => seen.HasDecimalPoint);
        }

        public MappingProposal Write()
        {
            Sort();
            bool isBurial = _byField.Keys.Any(key => key.Role is not null);
            Line($"# Mapping of {_file}, proposed by decayatlas map-columns. Replace every {Todo}, then: decayatlas check {_file}");
            Line("version: 1");
            Line("file:");
            foreach (string line in _table.FileLines)
                Line("  " + line);
            if (_isDecimalComma)
                Line("  decimal_sign: comma  # no number in the file has a point");
            else if (_hasCommas)
                Line($"  decimal_sign: {Todo}  # some numbers have a comma and some a point; comma or point?");
            Line($"  empty_words: []  # words that stand for an empty cell, for example [\"n.d.\"]");
            Line(_table.IsOfResults ? "one_row_is: result  # names of columns say k, S or what remained, and none says a mass"
                : isBurial ? "one_row_is: burial  # some names of columns say fast or slow"
                : _byField.ContainsKey((null, "bags.role")) ? "one_row_is: bag  # a column says which litter the bag holds"
                : $"one_row_is: {Todo}  # bag, or burial where the fast and the slow bag share a row");
            Package();
            Section("sites", null, SchemaCatalogue.Sites, 0);
            Lots();
            if (_table.IsOfResults)
                Section("results", null, SchemaCatalogue.Results, 0);
            else
                Section("bags", null, SchemaCatalogue.Bags, 0, isBurial);
            if (isBurial)
            {
                foreach (LitterRole role in new[] { LitterRole.Fast, LitterRole.Slow })
                {
                    Line(role == LitterRole.Fast ? "fast:" : "slow:");
                    Section("bags", role, SchemaCatalogue.Bags, 2, isBurial);
                }
            }
            Line("leave_out: []  # columns that are not part of the contribution");
            if (_undecided.Count > 0)
                Line("undecided:  # give each of these to a field, or move it to leave_out");
            foreach ((string name, string remark) in _undecided)
                Line($"  - {MappingText.Quote(name)}{Remark(remark)}");
            string written = _text.ToString();
            return new MappingProposal(written, written.AsSpan().Count(": " + Todo) + _undecided.Count);
        }

        private void Sort()
        {
            foreach (NamedColumn column in _table.Columns)
            {
                if (column.Meaning is not { Field: { } field, Role: var role })
                    _undecided.Add((column.Name, (column.Meaning.Near is { } near ? $"{near}? " : "") + Values(column.Column)));
                else if (_byField.TryGetValue((role, field), out List<NamedColumn>? others))
                    others.Add(column);
                else
                    _byField[(role, field)] = [column];
            }
        }

        private void Leave(NamedColumn column)
        {
            if (_undecided.TrueForAll(known => known.Name != column.Name))
                _undecided.Add((column.Name, Values(column.Column)));
        }

        private ColumnEvidence Seen(int column)
        {
            if (!_evidence.TryGetValue(column, out ColumnEvidence? seen))
                _evidence[column] = seen = ColumnEvidence.Of(_table.Rows, column, _isDecimalComma);
            return seen;
        }

        private string Values(int column)
        {
            ColumnEvidence seen = Seen(column);
            return seen.Filled == 0 ? "no values" : "for example " + string.Join(", ", seen.Distinct.Take(3).Select(MappingText.Remark));
        }

        private void Package()
        {
            Line("package:");
            foreach ((string name, string remark) in new[]
            {
                ("name", "the contribution id, small letters, the same in every revision"),
                ("contributor", "your contributor id, not a person's name"),
                ("campaign", "the campaign id"), ("protocol", "the id of the protocol you followed"), ("licence", "for example CC-BY-4.0"),
            })
            {
                Line($"  {name}: {Todo}  # {remark}");
            }

            Line("  revision: 1");
        }

        private void Lots()
        {
            string[] ids = [.. _byField
                .Where(entry => entry.Key.Field is "bags.lot_id" or "results.fast_lot_id" or "results.slow_lot_id")
                .SelectMany(entry => entry.Value)
                .SelectMany(column => Seen(column.Column).Distinct).Distinct().Order(StringComparer.Ordinal)];
            // k and S alone stand without lots
            if (_table.IsOfResults && ids.Length == 0)
                return;
            Line("lots:  # what the label or the lot sheet of each litter says");
            foreach (string id in ids.Length > 0 ? ids : [Todo, Todo])
            {
                Line($"  - lot_id: {(id == Todo ? id : MappingText.Quote(id))}");
                foreach (string field in new[]
                {
                    "role", "hydrolysable_fraction", "hydrolysable_fraction_sd", "hydrolysable_basis", "tare_g",
                })
                {
                    if (field == "tare_g" && _table.IsOfResults)
                        continue;
                    Line($"    {field}: {Todo}" + Remark(field switch
                    {
                        "role" => "fast or slow",
                        "hydrolysable_basis" => "dry or ash-free: what the fraction is a share of; take the line out if nobody knows",
                        "tare_g" => "the empty bag with all that hangs on it; take the line out where masses are of the litter alone",
                        _ => "",
                    }));
                }
            }
        }

        // One section of fields: those with a column, and those required that have none.
        private void Section(string name, LitterRole? role, TableSchema schema, int indent, bool isBurial = false)
        {
            string pad = new(' ', indent);
            Line($"{pad}{name}:");
            int before = _text.Length;
            foreach (FieldSchema field in schema.Fields)
            {
                string key = $"{name}.{field.Name}";
                string lookUp = field.Name == "site_id" ? "sites.site_id" : key;
                LitterRole? seen = lookUp == "sites.site_id" ? null : role;
                bool isOwnField = field.Name is "bag_id" or "lot_id" or "mass_initial_g" or "mass_final_g";
                if (role is not null && field.Name is "site_id")
                    continue;
                if (_byField.TryGetValue((seen, lookUp), out List<NamedColumn>? columns))
                {
                    Field(pad, field, columns);
                }
                else if (field.Name is "drying_initial" or "drying" && role is null && _byField.Keys.All(known => known.Field != key))
                {
                    Line($"{pad}  {field.Name}: {{ value: {Todo} }}  # {string.Join(", ", field.Choices)}: what was done to the litter "
                        + $"before it was weighed {(field.Name == "drying" ? "after retrieval" : "first")}; take the line out if nobody "
                        + "knows, and k may be off by a quarter");
                }
                else if (field.Name == "mass_basis" && role is null)
                {
                    Basis(pad);
                }
                else if (field.Name == "evidence"
                    || (field.Name is "errors_are" or "method" && _byField.ContainsKey((null, "results.k_per_day"))))
                {
                    Line($"{pad}  {field.Name}: {{ value: {Todo} }}  # {string.Join(" or ", field.Choices)}");
                }
                else if (field.Required && !(isBurial && field.Name == "role") && (!isBurial || isOwnField == (role is not null))
                    && !(isBurial && _byField.ContainsKey((null, key))))
                {
                    string or = field.Name.EndsWith("_id", StringComparison.Ordinal) ? " Or pattern: with names of columns in braces." : "";
                    Line($"{pad}  {field.Name}: {{ column: {Todo} }}  # {field.Description}{or}");
                }
            }
            if (_text.Length == before)
                Line($"{pad}  {{}}");
        }

        private void Basis(string pad)
        {
            string[] said = [.. _table.Columns.Where(column => column.Meaning.Field is not null).Select(column => column.Meaning.Basis)
                .OfType<string>().Distinct()];
            Line($"{pad}  mass_basis: {{ value: {(said is [string one] ? $"{one} }}  # from the names of the columns of masses"
                : $"{Todo} }}  # gross (with the bag and all that hangs on it) or litter (the litter alone)")}");
        }

        private void Field(string pad, FieldSchema field, List<NamedColumn> columns)
        {
            if (field.Name is "burial_id" or "bag_id" && columns is [{ Meaning.Role: null } id])
            {
                (string value, string why) = IdProposal.For(field.Name, id, _table, IdColumns());
                Line($"{pad}  {field.Name}: {{ {value} }}{Remark(why)}");
                if (value.EndsWith(Todo, StringComparison.Ordinal))
                    Leave(id);
                return;
            }

            if (columns.Count > 1)
            {
                Line($"{pad}  {field.Name}: {{ column: {Todo} }}  # several columns may be meant: "
                    + string.Join(", ", columns.Select(column => MappingText.Remark(column.Name))));
                columns.ForEach(Leave);
                return;
            }
            NamedColumn source = columns[0];
            ColumnEvidence seen = Seen(source.Column);
            List<string> keys = ["column: " + MappingText.Quote(source.Name)];
            string remark = "";
            IReadOnlyList<string> units = Wide.Units.For(field);
            if (source.Meaning.Unit is { } unit && units.Contains(unit))
            {
                keys.Add("unit: " + unit);
            }
            else if (units.Count > 1 && !source.Meaning.Field!.EndsWith(Plain(source.Name), StringComparison.Ordinal))
            {
                keys.Add($"unit: {Todo}");
                remark = $"{string.Join(", ", units)}? values {Range(seen)}";
            }
            if (seen.LooksLikeDegrees && field.Name.StartsWith("decimal_l", StringComparison.Ordinal))
                keys.Add("form: degrees-minutes-seconds");
            if (field.Type == FieldType.Date)
            {
                keys.Add("date_order: " + (seen is { LooksLikeDates: true, DateOrder: { } order } ? order : Todo));
                remark = seen.LooksLikeDates ? seen.DateReason
                    : $"iso, dmy, mdy, serial-1900 or serial-1904? {Values(source.Column)}";
            }
            Line($"{pad}  {field.Name}: {{ {string.Join(", ", keys)}{Words(field, seen)} }}{Remark(remark.Replace('\n', ' '))}");
        }

        private IdColumns IdColumns()
        {
            return new IdColumns(_byField.Keys.Any(key => key.Role is not null), Of("sites.site_id"), Of("bags.plot"),
                Of("bags.burial_id"), Of("bags.replicate"), Of("bags.role"));

            NamedColumn? Of(string field) => _byField.GetValueOrDefault((null, field)) is [NamedColumn only] ? only : null;
        }

        private static string Words(FieldSchema field, ColumnEvidence seen)
        {
            IReadOnlyList<string> allowed = field.Type == FieldType.YesNo ? ["yes", "no"] : field.Choices;
            string[] strange = allowed.Count == 0 ? [] : [.. seen.Distinct.Where(word => !allowed.Contains(word)
                && !(field.IsOpen && field.Words!.Find(word) is not null))];
            return strange.Length == 0 ? ""
                : ", words: { " + string.Join(", ", strange.Select(word => $"{MappingText.Quote(word)}: {Todo}")) + " }";
        }

        private static string Remark(string text) => text.Length > 0 ? "  # " + text : "";

        private static string Plain(string name) => name.Trim().ToLowerInvariant().Replace(' ', '_');

        private static string Range(ColumnEvidence seen) => seen.Lowest is { } low && seen.Highest is { } high
            ? Invariant($"from {low} to {high}") : "that are no numbers";

        private void Line(string line) => _text.Append(line).Append('\n');
    }
}
