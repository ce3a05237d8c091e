using System.Globalization;

namespace DecayAtlas.Cli.Commands.Contributing;

/// <summary>Asks the questions about a table one by one on a terminal: a number key for a choice, enter for what is likely, b for back, q
/// to leave.</summary>
internal static class QuestionPrompt
{
    public static Inquiry Through(Screen screen, Phrases words, Dictionary<string, string> answers, Func<Inquiry> ask)
    {
        Stack<string> asked = [];
        HashSet<string> told = [];
        Inquiry inquiry = ask();
        while (true)
        {
            foreach (Told line in inquiry.Told.Where(line => told.Add(line.Text)))
                screen.Line("- " + line.Text);
            if (inquiry.Questions.Count == 0)
                return inquiry;
            Question question = inquiry.Questions[0];
            screen.Line("");
            screen.Line($"{words.Say("ask.left", inquiry.Questions.Count)}  {question.Text}");
            if (question.Why is { } why)
                screen.Line("  " + why);
            foreach (SeenCell cell in question.Seen.Take(6))
                screen.Line("  " + Shown(cell));
            for (int i = 0; i < question.Choices.Count; i++)
            {
                Choice choice = question.Choices[i];
                string mark = choice.Value == question.Suggested ? " *" : "";
                screen.Line(FormattableString.Invariant($"  {i + 1}  {choice.Text}{mark}"));
            }
            string typed = screen.Typed();
            if (typed is "q" or "quit")
                return inquiry;
            if (typed is "b" or "back")
            {
                if (asked.TryPop(out string? last))
                    answers.Remove(last);
                inquiry = ask();
                continue;
            }
            string? answer = typed.Length == 0 ? question.Suggested
                : question.Kind != QuestionKind.Choice ? typed
                : int.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out int n) && n >= 1 && n <= question.Choices.Count
                    ? question.Choices[n - 1].Value : question.Choices.FirstOrDefault(choice => choice.Value == typed)?.Value;
            if (answer is not null)
            {
                answers[question.Id] = answer;
                inquiry = ask();
            }
            if (answer is null || (inquiry.Questions.Count > 0 && inquiry.Questions[0].Id == question.Id))
            {
                answers.Remove(question.Id);
                screen.Line(words["ask.again"]);
                continue;
            }
            asked.Push(question.Id);
        }
    }

    public static string Shown(SeenCell cell) =>
        $"{(cell.Sheet is null ? "" : cell.Sheet + " ")}{cell.Cell ?? cell.Row.ToString(CultureInfo.InvariantCulture)}: {cell.Text}";
}
