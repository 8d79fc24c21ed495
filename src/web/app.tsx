import { CameraDoor } from './camera/cameraDoor.tsx';
import { ComparePage } from './compare/comparePage.tsx';
import { LessonDoor } from './lesson/lessonDoor.tsx';
import { useRoute } from './route.ts';
import { NewSet } from './sets/newSet.tsx';
import { SetPage } from './sets/setPage.tsx';
import { MyLessons } from './shelf/myLessons.tsx';
import { NewLesson } from './shelf/newLesson.tsx';
import { TechniquesPage } from './techniques/techniquesPage.tsx';
import { wording } from './wording/index.ts';

/** The workbench: whichever page is open. */
export const App = () => {
  const route = useRoute();
  switch (route.page) {
    case 'shelf':
      return <MyLessons />;
    case 'new':
      return <NewLesson />;
    case 'lesson':
      return <LessonDoor key={route.id} id={route.id} />;
    case 'camera':
      return <CameraDoor key={route.id} id={route.id} />;
    case 'techniques':
      return <TechniquesPage />;
    case 'compare':
      return <ComparePage first={route.first} second={route.second} />;
    case 'newSet':
      return <NewSet />;
    case 'set':
      return <SetPage key={route.id} id={route.id} />;
    case 'nowhere':
      return <main className="page">{wording.notThere}</main>;
    default:
      return route satisfies never;
  }
};
