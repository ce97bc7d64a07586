/** How each operation of the syllabus is taught: how near the tutor is, what is shown before, what to read. */
import type { Course } from '../../core/contract/course.ts';
import type { Gathering } from '../../core/contract/course-people.ts';
import { attentions } from '../../core/treatment/treatment.ts';
import { client } from '../app/client.ts';
import { useChange } from '../app/queries.ts';
import { TroubleNotice } from '../parts/notices.tsx';
import { SavedText } from '../parts/saved.tsx';

export function Lessons({ course, gathering }: Readonly<{ course: Course; gathering: Gathering }>) {
  const save = useChange(client.coursePeople.setLesson);
  const lessons = gathering.syllabus;
  const set = (lesson: Gathering['syllabus'][number], patch: Partial<Gathering['syllabus'][number]>) => {
    const { operationId, attention, after, reading } = { ...lesson, ...patch };
    return save.mutateAsync({
      courseId: course.id,
      operationId,
      attention,
      after: [...after],
      reading,
    });
  };
  if (lessons.length === 0) return null;
  return (
    <>
      <h3>How each operation is taught</h3>
      {save.error && <TroubleNotice error={save.error} />}
      <div className="table-scroll">
        <table className="table course-stacked">
          <thead>
            <tr>
              <th>Operation</th>
              <th>The tutor</th>
              <th>Comes after</th>
              <th>Reading</th>
            </tr>
          </thead>
          <tbody>
            {lessons.map((lesson) => (
              <tr key={lesson.operationId}>
                <td className="course-row-head">{lesson.name}</td>
                <td data-head="The tutor">
                  <select
                    aria-label={`The tutor at ${lesson.name}`}
                    value={lesson.attention ?? ''}
                    onChange={(event) =>
                      void set(lesson, {
                        attention: attentions.find((one) => one === event.target.value) ?? null,
                      }).catch(() => {})
                    }
                  >
                    <option value="">{words(lesson.least)} (usual)</option>
                    {attentions
                      .filter((one) => attentions.indexOf(one) > attentions.indexOf(lesson.least))
                      .map((one) => (
                        <option key={one} value={one}>
                          {words(one)}
                        </option>
                      ))}
                  </select>
                </td>
                <td data-head="Comes after">
                  {lesson.after.map((id) => {
                    const name = lessons.find((one) => one.operationId === id)?.name ?? id;
                    return (
                      <button
                        key={id}
                        type="button"
                        className="button button-quiet"
                        aria-label={`${lesson.name} need not come after ${name}`}
                        onClick={() =>
                          void set(lesson, { after: lesson.after.filter((one) => one !== id) }).catch(() => {})
                        }
                      >
                        {name} ×
                      </button>
                    );
                  })}
                  <select
                    aria-label={`${lesson.name} comes after`}
                    value=""
                    onChange={(event) =>
                      void set(lesson, { after: [...lesson.after, event.target.value] }).catch(() => {})
                    }
                  >
                    <option value="">add …</option>
                    {lessons
                      .filter(
                        (one) => one.operationId !== lesson.operationId && !lesson.after.includes(one.operationId),
                      )
                      .map((one) => (
                        <option key={one.operationId} value={one.operationId}>
                          {one.name}
                        </option>
                      ))}
                  </select>
                </td>
                <td data-head="Reading">
                  <SavedText
                    className="course-quiet-name"
                    name={`Reading on ${lesson.name}`}
                    value={lesson.reading}
                    keep={(reading) => set(lesson, { reading })}
                  />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

function words(attention: string): string {
  return attention === 'none' ? 'need not be there' : `is ${attention}`;
}
